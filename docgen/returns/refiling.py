"""A sheet that was filed before: whether this copy says anything else, and how to put that into the record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from docgen.club.folder import EngineRecord
from docgen.club.log import Entry, Held, Log
from docgen.club.schema.event import Service
from docgen.job.marks import ROWED
from docgen.returns.filing import event_of, sheet_in
from docgen.returns.identity import Sheet

_OF_FILING = frozenset({"parents", "printed", "file", "file_digest", "pictures", "note", "findings", "remarks"})
"""What differs from one filing to the next without the paper saying anything else."""


def filed_as(sheet: Sheet) -> Held | None:
    """The entry of the log that this very sheet was filed as, with what holds of it now; None where it was not."""
    log = sheet.record.log
    entry = sheet_in(log, sheet.job.issue_digest, sheet.text, sheet.job.instructions.procedure)
    return next((held for held in log.held if held.entry is entry), None) if entry else None


def record_before(sheet: Sheet) -> EngineRecord:
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
