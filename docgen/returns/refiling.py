"""A sheet that was filed before: whether this copy says anything else, how to put that into the record, and what stood
in its boxes, so that putting it right starts from what was filed."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from docgen.club.folder import EngineRecord
from docgen.club.log import Entry, Held, Log
from docgen.club.schema.event import Service
from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, ON, filled
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job import wording
from docgen.job.job import Job
from docgen.job.marks import ROWED
from docgen.job.state import state_of
from docgen.returns.answers import FINDINGS, TOGETHER
from docgen.returns.filing import event_of, sheet_in
from docgen.returns.identity import IssuedSheet
from docgen.returns.renewals import NOT_NOTED
from docgen.sheets.entries import expected, keyed, looked_at
from docgen.sheets.tables import OTHERS

_OF_FILING = frozenset({"parents", "printed", "file", "file_digest", "pictures", "note", "findings", "remarks"})
"""What differs from one filing to the next without the paper saying anything else."""


def filed_as(sheet: IssuedSheet) -> Held | None:
    """The entry of the log that this very sheet was filed as, with what holds of it now; None where it was not."""
    log = sheet.record.log
    entry = sheet_in(log, sheet.job.issue_digest, sheet.text, sheet.job.instructions.procedure)
    return next((held for held in log.held if held.entry is entry), None) if entry else None


def record_before(sheet: IssuedSheet) -> EngineRecord:
    """The engine's record without this very sheet, where it was filed already: findings that it closed are open there.

    A second copy of a sheet is read against this, so that the same paper always says the same.
    """
    held = filed_as(sheet)
    if held is None:
        return sheet.record
    others = tuple(entry for entry in sheet.record.log.entries if entry is not held.entry)
    return replace(sheet.record, log=Log(others))


def differences(held: Held, event: dict[str, Any]) -> tuple[str, ...]:
    """The parts of the event in which this copy of the sheet differs from what stands in the record.

    Whether a finding was already dealt with when it was filed is a matter of filing, not of the paper.
    """
    before, now = held.event, Service.model_validate(event)
    assert isinstance(before, Service)
    names = [name for name in Service.model_fields if name not in _OF_FILING]
    found = [name for name in names if getattr(before, name) != getattr(now, name)]
    if {*before.findings, *before.remarks} != {*now.findings, *now.remarks}:
        found.append("findings")
    return tuple(found)


LOSABLE = ("readings", "settings", "torques", "renewed", "seals", *(kind.row.table for kind in ROWED), "checked")
"""The parts of an event whose entries are facts by themselves."""


def taken_away(held: Held, event: dict[str, Any]) -> tuple[str, ...]:
    """What stands in the record and would stand there no longer, in words: readings, parts, seals, findings."""
    before, now = held.event, Service.model_validate(event)
    assert isinstance(before, Service)
    found = []
    for group in LOSABLE:
        old, new = getattr(before, group), getattr(now, group)
        found += [f"{group} {name}{_value(old[name])}" for name in old if name not in new]
    texts = {*now.findings, *now.remarks}
    return (*found, *(f"finding: {text}" for text in (*before.findings, *before.remarks) if text not in texts))


def _value(value: Any) -> str:
    if isinstance(value, tuple):
        return f": {' / '.join(map(str, value))}"
    return f": {value}" if isinstance(value, str) else ""


def correction(entry: Entry, event: dict[str, Any], why: str, today: date) -> dict[str, Any]:
    """The event that puts this copy of the sheet in the place of what was filed; both stay in the record."""
    return event_of("correction", today, corrects=entry.digest, why=why, instead=event)


def refilled(sheet: IssuedSheet, event: Service) -> dict[str, str]:
    """The boxes as they were filled, by their fields; what the event does not hold is empty."""
    job = sheet.job
    found = {**_plain(event), **_looked(job, event)}
    for _, mark, key in keyed(job.instructions.steps):
        found |= _of_mark(mark, key, event)
    for n, text in enumerate(_also(job, event)[:OTHERS], 1):
        found[f"also-renewed-{n}"] = text
    found |= _dealt(sheet, event)
    return {field: text for field, text in found.items() if text}


def _plain(event: Service) -> dict[str, str]:
    together = ((getattr(event, group), boxes) for group, (_, boxes) in TOGETHER.items())
    return {
        "work-started": str(event.started or ""),
        "work-completed": str(event.date),
        "engine-hours": str(event.hours or ""),
        "done-by": event.by or "",
        "struck": event.struck or "",
        FINDINGS: "\n".join((*event.findings, *event.remarks)),
        **{at: str(getattr(one, part, None) or "") for one, boxes in together for part, at in boxes.items()},
    }


def _looked(job: Job, event: Service) -> dict[str, str]:
    covered = [(step.called, mark.key) for step, mark in looked_at(job.instructions)]
    bad = [label for label, key in covered if event.checked.get(key) == "not good"]
    good = any(event.checked.get(key) == "good" for _, key in covered)
    found = {LOOKED_ALL: ON if good else "", LOOKED_EXCEPT: "; ".join(bad)}
    found |= {one.closing_box: ON for one in job.instructions.closing if one.key in event.checked}
    return found | {one.after_run_box: ON for one in job.instructions.after_run if one.after_run_box in event.checked}


def _of_mark(mark: m.Mark, key: str, event: Service) -> dict[str, str]:
    match mark:
        case m.ReadingMark():
            return dict(zip(mark.boxes, map(str, event.readings.get(mark.limit, ())), strict=False))
        case m.TorqueMark():
            own = filled(mark, event.torques[mark.item]) if mark.item in event.torques else {}
            return {mark.initials_box: event.initials.get(key, ""), **own}
        case m.SettingMark() if mark.setting in event.settings:
            text = getattr(event.settings[mark.setting], mark.when) or ""
            first, *notes = text.split(", ") if mark.note_also else (text,)
            return {mark.value_box: first, **dict(zip(mark.note_boxes, notes, strict=False))}
        case m.RenewMark() if mark.item in event.renewed and not mark.if_needed:
            number = event.renewed[mark.item]
            return {mark.renewed_box: ON, mark.number_box: "" if number == NOT_NOTED else number}
        case m.SealMark() if mark.item in event.seals:
            seal = event.seals[mark.item]
            return {mark.number_box: getattr(seal, mark.when) or "", **filled(mark, seal)}
    kept = getattr(event, row.table) if (row := getattr(mark, "row", None)) else {}
    return filled(mark, kept[key]) if key in kept else {}


def _also(job: Job, event: Service) -> list[str]:
    """Parts renewed that have no row of their own."""
    names: Mapping[str, Any] = {one.item: one.name for one in job.instructions.spares}
    rows = {mark.item for _, mark in expected(job.instructions)}
    others = {item: number for item, number in event.renewed.items() if item not in rows}
    return [f"{names.get(item, item)}{'' if number == NOT_NOTED else f', {number}'}" for item, number in others.items()]


def _dealt(sheet: IssuedSheet, event: Service) -> dict[str, str]:
    """The earlier findings that it closed."""
    words = Words.speaking(sheet.job.instructions.tongue)
    texts = {f.digest: wording.finding(f, words) for f in state_of(record_before(sheet), date.max).findings}
    closed = {texts.get(one.finding, ""): one.how or "" for one in event.dealt_with}
    found: dict[str, str] = {}
    for one in sheet.job.issue.listed_findings:
        if one.text in closed:
            found |= {one.done_box: ON, one.how_box: closed[one.text]}
    return found
