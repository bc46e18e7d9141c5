"""Where a signed sheet leads on: a check that was not good calls for a job, or for a part still to be fitted."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.job.wording import listed
from docgen.returns.gathered import Gathered
from docgen.returns.measured import Judged
from docgen.sheets.entries import keyed
from docgen.trade.limits import Verdict


def leads(on: Gathered, judged: Collection[Judged]) -> None:
    """Every check that was not good, or outside its limit, with the job and the spares that its failure asks for.

    A part that the step itself would have renewed is asked for, too, until it has been renewed. A reading too near to
    its limit leads nowhere: it is measured again.
    """
    for step, mark, key in keyed(on.job.instructions.steps):
        if isinstance(mark, (m.LookMark, m.ReadingMark)) and (what := _found(on, step, mark, key, judged)):
            asked = [*mark.spares, *_not_renewed(on, step)]
            lead: dict[str, Any] = {"check": key, "what": what}
            lead |= {"calls": mark.calls} if mark.calls else {}
            lead |= {"spares": list(dict.fromkeys(asked))} if asked else {}
            if len(lead) > 2:
                on.event.setdefault("leads_on", []).append(lead)
                on.say("note", "leads-on", f"{what}: {_due(on, mark, asked)}", at=key)


def _found(
    on: Gathered, step: JobStep, mark: m.LookMark | m.ReadingMark, key: str, judged: Collection[Judged]
) -> str:
    """What was found, in the words of the sheet; empty where nothing was."""
    at = {"job": on.job.instructions.code, "step": step.called}
    if isinstance(mark, m.LookMark):
        bad = on.event.get("checked", {}).get(key) == "not good"
        return on.words.not_good_in.format(check=on.point(key).rstrip("."), **at) if bad else ""
    one = next((one for one in judged if one.key == key and one.verdict is Verdict.REJECT), None)
    if one is None:
        return ""
    figures = " / ".join(str(value) for value in one.values)
    return on.words.outside_in.format(reading=one.name, figures=figures, limit=one.printed, **at)


def _not_renewed(on: Gathered, step: JobStep) -> Iterator[str]:
    for mark in step.marks:
        if isinstance(mark, m.RenewMark) and mark.if_needed and mark.item not in on.event.get("renewed", {}):
            yield mark.item


def _due(on: Gathered, mark: m.LookMark | m.ReadingMark, asked: Collection[str]) -> str:
    parts = listed([one.replace("-", " ") for one in asked], on.words)
    job = f"{mark.calls} is due until it is signed" if mark.calls else ""
    return ", and ".join(filter(None, (job, f"asked for new: {parts}" if asked else "")))
