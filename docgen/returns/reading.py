"""A filled sheet as the event that it will be, and everything that must be said before it is written."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import ValidationError

from docgen.club.schema.event import Service
from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.job.state import state_of
from docgen.job.wording import listed
from docgen.returns import inspections, measurements, renewals, signatures
from docgen.returns.answers import Answers, FormReading
from docgen.returns.diagnostic import Said
from docgen.returns.identity import IssuedSheet
from docgen.returns.measurements import Judged
from docgen.returns.refiling import record_before
from docgen.sheets.entries import keyed
from docgen.trade.errors import TradeError
from docgen.trade.limits import Verdict
from docgen.trade.quantity import QuantityError, parse_quantity
from docgen.trade.sizing import choose


@dataclass(frozen=True)
class Understood:
    """What a sheet says.

    event      : plain data of a Service event, as :func:`docgen.club.store.to_yaml` writes it
    judged     : the readings with what the printed limits say of them
    said       : refusals, doubts and notes, in the order of the sheet
    understood : boxes that were not written as they were read
    """

    sheet: IssuedSheet
    event: dict[str, Any]
    judged: tuple[Judged, ...]
    said: tuple[Said, ...]
    understood: tuple[str, ...]

    @property
    def refused(self) -> tuple[Said, ...]:
        """What stands in the way of filing."""
        return tuple(one for one in self.said if one.weight == "refused")

    @property
    def doubts(self) -> tuple[Said, ...]:
        """What somebody must say is right."""
        return tuple(one for one in self.said if one.weight == "doubt")


def understand(
    sheet: IssuedSheet, answers: Answers, today: date, in_force: int | None, closed: frozenset[int] = frozenset(),
    *, elsewhere: frozenset[str] = frozenset(), first: bool = True,
) -> Understood:  # fmt: skip
    """Read a sheet's answers, against what was printed on it and what the record holds.

    in_force : revision of the procedure that is in force now, None where it was withdrawn
    closed   : which lines of the findings (from 1) need nothing more; they are kept as remarks
    elsewhere, first : of a job of a visit (:mod:`docgen.returns.parts`): the rows of the other jobs, and whether what
               is written once for all of them is filed with this one
    """
    form = FormReading(sheet.job, answers, elsewhere=elsewhere)
    once = frozenset() if first else frozenset(form.remarks)
    done = signatures.days(form, sheet.record, today)
    signatures.hours(form, sheet.record, done or today)
    signatures.dealt_with(form, state_of(record_before(sheet), date.max))
    measurements.settings(form)
    measurements.torques(form)
    judged = measurements.readings(form)
    sizes(form)
    inspections.looks(form)
    inspections.holds(form)
    inspections.rows(form)
    renewals.renewed(form)
    leads(form, judged)
    inspections.seals(form)
    inspections.checks(form)
    signatures.people(form)
    form.together("next_due")  # what the releaser wrote down; the record computes its own
    _revision(form, in_force)
    form.remarks = tuple(text for text in form.remarks if text not in once)
    event = _event(form, sheet, closed)
    if not any(one.weight == "refused" for one in form.said):
        _fits(form, event)
    return Understood(sheet, event, tuple(judged), tuple(form.said), tuple(form.understood))


def _revision(form: FormReading, in_force: int | None) -> None:
    told = form.job.instructions
    if in_force is None:
        form.note("withdrawn", f"the procedure {told.procedure} is no longer in this folder")
    elif told.revision < in_force:
        message = f"the work was done by revision {told.revision}; revision {in_force} is in force now"
        form.note("superseded-revision", message, "look what changed since, and whether it matters here")


def _event(form: FormReading, sheet: IssuedSheet, closed: frozenset[int]) -> dict[str, Any]:
    """The event's data in the order of its shape, without what is empty."""
    told = form.job.instructions
    data: dict[str, Any] = {
        **form.event,
        "event": "service",
        "procedure": told.procedure,
        "revision": str(told.revision),
        "sheet": sheet.text,
        "instructions": form.job.instructions_digest,
        "issue": form.job.issue_digest,
        "printed": sheet.printed,
        "blank": list(dict.fromkeys(form.blank)),
        "struck": form.text("struck"),
        "findings": [text for n, text in enumerate(form.remarks, 1) if n not in closed],
        "remarks": [*(text for n, text in enumerate(form.remarks, 1) if n in closed), *form.also],
    }
    ordered = ("event", *(name for name in Service.model_fields if name != "event"))
    return {name: data[name] for name in ordered if data.get(name)}


def _fits(form: FormReading, event: dict[str, Any]) -> None:
    """What a box may hold but the record cannot, is said before anything is written."""
    try:
        Service.model_validate(event)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        form.refuse("not-storable", f"{where}: {first['msg']}", "write it in another way", "")


def sizes(form: FormReading) -> None:
    """A note for each size left that is not the one which old size and first reading ask for."""
    for _, mark in form.marks(m.SettingMark):
        if mark.chosen is not None:
            noted = form.event.get("settings", {}).get(mark.setting, {})
            read = form.event.get("readings_before", {}).get(mark.chosen.limit) or (
                form.event.get("readings", {}).get(mark.chosen.limit, ()))  # fmt: skip
            if {"found", "left"} <= noted.keys() and len(read) == 1:
                _held(form, mark, mark.chosen, [noted["found"], read[0], noted["left"]])


def _held(form: FormReading, mark: m.SettingMark, by: m.ChosenBy, texts: list[str]) -> None:
    try:
        old, clearance, left = (parse_quantity(text.partition(",")[0]) for text in texts)
        asked = choose(old, clearance, by.wanted, by.sizes, by.step, by.thicker)
    except QuantityError:
        return
    except TradeError as error:
        form.note("no-such-size", f"{mark.name}: {error.message}", at=mark.key)
        return
    if left != asked:
        message = f"{mark.name}: {left} was left; {old} and a clearance of {clearance} ask for {asked}"
        form.note("another-size", message, "measure the clearance again", mark.key)


def leads(form: FormReading, judged: Collection[Judged]) -> None:
    """Every check that was not good, or outside its limit, with the job and the spares that its failure asks for.

    A part that the step itself would have renewed is asked for, too, until it has been renewed. A reading too near to
    its limit leads nowhere: it is measured again.
    """
    for step, mark, key in keyed(form.job.instructions.steps):
        if isinstance(mark, (m.LookMark, m.ReadingMark)) and (what := _found(form, step, mark, key, judged)):
            renewed = form.event.get("renewed", {})
            maybe = (one for one in step.marks if isinstance(one, m.RenewMark) and one.if_needed)
            asked = [*mark.spares, *(one.item for one in maybe if one.item not in renewed)]
            lead: dict[str, Any] = {"check": key, "what": what}
            lead |= {"calls": mark.calls} if mark.calls else {}
            lead |= {"spares": list(dict.fromkeys(asked))} if asked else {}
            if len(lead) > 2:
                form.event.setdefault("leads_on", []).append(lead)
                form.note("leads-on", f"{what}: {_due(form, mark, asked)}", at=key)


def _found(
    form: FormReading, step: JobStep, mark: m.LookMark | m.ReadingMark, key: str, judged: Collection[Judged]
) -> str:
    """What was found, in the words of the sheet; empty where nothing was."""
    at = {"job": form.job.instructions.code, "step": step.called}
    if isinstance(mark, m.LookMark):
        bad = form.event.get("checked", {}).get(key) == "not good"
        point = form.point(key).rstrip(".")
        return form.words("{check}: not good ({job}, row {step})", check=point, **at) if bad else ""
    one = next((one for one in judged if one.key == key and one.verdict is Verdict.REJECT), None)
    if one is None:
        return ""
    figures = " / ".join(str(value) for value in one.values)
    at |= {"reading": one.name, "figures": figures, "limit": one.printed}
    return form.words("{reading}, {figures}: outside {limit} ({job}, row {step})", **at)


def _due(form: FormReading, mark: m.LookMark | m.ReadingMark, asked: Collection[str]) -> str:
    parts = listed([one.replace("-", " ") for one in asked], form.words)
    job = f"{mark.calls} is due until it is signed" if mark.calls else ""
    return ", and ".join(filter(None, (job, f"asked for new: {parts}" if asked else "")))
