"""The marks of what is measured or set: readings against limits, settings as found and as left."""

from collections.abc import Iterator
from typing import Any

from docgen.club.schema.model import Fail, Setting
from docgen.club.schema.procedure import Step
from docgen.club.words import message
from docgen.job import wording
from docgen.job.figures import Figures
from docgen.job.marks import ChosenBy, ReadingMark, SettingMark, key
from docgen.job.readings import accepted, allowance
from docgen.trade.sizing import Thicker, aim


def settings_of(step: Step, figures: Figures) -> Iterator[SettingMark]:
    """The settings that a step notes: as found, then as left."""
    for name in step.finds:
        yield _setting(figures, name, found=True)
    for name in step.sets:
        yield _setting(figures, name, found=False)


def _setting(figures: Figures, name: str, *, found: bool) -> SettingMark:
    setting = figures.setting(name)
    chosen = None if found else _chosen(figures, setting)
    return SettingMark(
        key=key("found" if found else "left", name),
        setting=name,
        name=figures.name(name),
        when="found" if found else "left",
        unit=setting.unit,
        start=figures.banded(name, "start", setting.start, setting.source),
        datum=setting.datum or (_formula(figures, chosen) if chosen else ""),
        ceiling=setting.ceiling,
        note_also=setting.note_also,
        picture=setting.picture or "",
        chosen=chosen,
    )


def _chosen(figures: Figures, setting: Setting) -> ChosenBy | None:
    by = setting.chosen
    wanted = allowance(figures.limit(by.by)) if by and by.by in figures.model.limits else None
    if by is None or wanted is None:
        return None
    thicker: Thicker = "less" if by.thicker == "less" else "more"
    return ChosenBy(limit=by.by, wanted=wanted, sizes=by.sizes, step=by.step, thicker=thicker)


def _formula(figures: Figures, by: ChosenBy) -> str:
    """How it is chosen, to be worked out at the bench: `old + inlet clearance - 0.13 mm, to 0.05 mm`."""
    w = figures.words
    text = message("old one + {clearance} - {wanted}, to the next {step}" if by.thicker == "less"
                   else "old one - {clearance} + {wanted}, to the next {step}")  # fmt: skip
    sizes = {"wanted": wording.quantity(aim(by.wanted), w), "step": wording.quantity(by.step, w)}
    return w(text, clearance=figures.in_text(by.limit), **sizes)


def reading_of(figures: Figures, name: str, fail: Fail | None) -> ReadingMark:
    """The row for a measurement, with what to accept on its gauge."""
    limit = figures.limit(name)
    gauge = figures.club.gauges.get(limit.gauge or "")
    band = allowance(limit)
    derived = _derived_text(figures, name) if limit.derived else ""
    accept, undecided = accepted(figures, name)
    return ReadingMark(
        key=key("measure", name),
        limit=name,
        name=figures.name(name),
        unit=band.unit if band else limit.unit or "",
        new=figures.banded(name, "new", limit.new, limit.source) if limit.new else None,
        allow=figures.banded(name, "allow", limit.allow, limit.source),
        gauge=gauge.name if gauge else "",
        kind=limit.kind or "",
        where=limit.where or "",
        derived=derived,
        positions=limit.positions,
        picture=limit.picture or "",
        accept=accept,
        undecided=undecided,
        **failing(figures, fail or limit.fail),
    )


def _derived_text(figures: Figures, name: str) -> str:
    derived, w = figures.limit(name).derived, figures.words
    assert derived is not None
    if derived.difference:
        larger, smaller = (figures.in_text(n) for n in derived.difference)
        return w("{larger} less {smaller}", larger=larger, smaller=smaller)
    if derived.average:
        return w("average of {names}", names=wording.listed([figures.in_text(n) for n in derived.average], w))
    assert derived.spread is not None
    return w("largest less smallest of {names}", names=wording.listed([figures.in_text(n) for n in derived.spread], w))


def failing(figures: Figures, fail: Fail | None) -> dict[str, Any]:
    """What a check's mark says of its failure: what to do, in words, the job that it calls for, the spares."""
    if fail is None:
        return {}
    return {"fail": fail.do or _to_do(figures, fail), "calls": fail.calls or "", "spares": fail.spares or ()}


def _to_do(figures: Figures, fail: Fail) -> str:
    names, w = [figures.in_text(n) for n in fail.renews or ()], figures.words
    renew = w("Renew the {parts}.", parts=wording.listed(names, w)) if names else ""
    called = (fail.calls or "").replace("-", " ")
    then = w("Write it under findings. It calls for the job {job}.", job=called) if called else ""
    return " ".join(filter(None, (renew, then)))
