"""A filed sheet as what stands in its boxes: so that putting it right starts from what was filed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from docgen.club.schema.event import Service
from docgen.job import marks as m
from docgen.job import wording
from docgen.job.job import Job
from docgen.job.state import state_of
from docgen.job.words import JobWords
from docgen.returns.again import record_before
from docgen.returns.excepted import ALL, EXCEPT
from docgen.returns.gathered import FINDINGS
from docgen.returns.renewals import NOT_NOTED
from docgen.returns.which import Sheet
from docgen.sheets.blanks import OTHERS
from docgen.sheets.entries import keyed, looked_at


def refilled(sheet: Sheet, event: Service) -> dict[str, str]:
    """The boxes as they were filled, by their fields; what the event does not hold is empty."""
    job = sheet.job
    found = {**_plain(event), **_looked(job, event)}
    for _, mark, key in keyed(job.instructions.steps):
        found |= dict(_of_mark(mark, key, event))
    for n, text in enumerate(_also(job, event)[:OTHERS], 1):
        found[f"also-renewed-{n}"] = text
    found |= _dealt(sheet, event)
    return {field: text for field, text in found.items() if text}


def _plain(event: Service) -> dict[str, str]:
    released, second, run, due = event.released, event.seconded, event.first_run, event.next_due
    return {
        "work-started": str(event.started or ""),
        "work-completed": str(event.date),
        "engine-hours": str(event.hours or ""),
        "done-by": event.by or "",
        "struck": event.struck or "",
        FINDINGS: "\n".join((*event.findings, *event.remarks)),
        "released-by": (released.by if released else "") or "",
        "released-signature": (released.signature if released else "") or "",
        "released-on": str((released.on if released else "") or ""),
        "second-by": (second.by if second else "") or "",
        "second-signature": (second.signature if second else "") or "",
        "second-on": str((second.on if second else "") or ""),
        "after-run-date": str((run.on if run else "") or ""),
        "after-run-time": (run.time if run else "") or "",
        "after-run-by": (run.by if run else "") or "",
        "next-due-what": (due.what if due else "") or "",
        "next-due-hours": str((due.hours if due else "") or ""),
        "next-due-date": str((due.on if due else "") or ""),
    }


def _looked(job: Job, event: Service) -> dict[str, str]:
    covered = [(step.called, key) for step, _, key in looked_at(job.instructions)]
    bad = [label for label, key in covered if event.checked.get(key) == "not good"]
    good = any(event.checked.get(key) == "good" for _, key in covered)
    found = {ALL: "on" if good else "", EXCEPT: "; ".join(bad)}
    for prefix, checks in (("closing", job.instructions.closing), ("after-run", job.instructions.after_run)):
        for check in checks:
            key = check.key if prefix == "closing" else f"after-run-{check.key}"
            found[f"{prefix}-{check.key}"] = "on" if key in event.checked else ""
    return found


def _of_mark(mark: m.Mark, key: str, event: Service) -> Iterator[tuple[str, str]]:
    yield f"{key}_initials", event.initials.get(key, "")
    if isinstance(mark, m.ReadingMark):
        values = [str(value) for value in event.readings.get(mark.limit, ())]
        for n, value in enumerate(values, 1):
            yield (f"{key}_{n}" if mark.positions else key), value
    elif isinstance(mark, m.TorqueMark) and mark.item in event.torques:
        told = event.torques[mark.item]
        yield f"{key}_wrench", told.wrench or ""
        yield f"{key}_paint", "on" if told.painted else ""
        yield f"{key}_value", told.value or ""
    elif isinstance(mark, m.SettingMark) and mark.setting in event.settings:
        yield from _setting(mark, key, getattr(event.settings[mark.setting], mark.when) or "")
    elif isinstance(mark, m.HoldMark) and key in event.holds:
        held = event.holds[key]
        yield from ((f"{key}_second", held.second or ""), (f"{key}_own", "on" if held.own else ""))
        yield f"{key}_time", held.at or ""
    elif isinstance(mark, m.WaitMark) and key in event.waits:
        yield from ((f"{key}_start", event.waits[key].start or ""), (f"{key}_finish", event.waits[key].finish or ""))
    elif isinstance(mark, m.RenewMark) and mark.item in event.renewed and not mark.if_needed:
        number = event.renewed[mark.item]
        yield from ((f"{key}_renewed", "on"), (f"{key}_number", "" if number == NOT_NOTED else number))
    elif isinstance(mark, m.SealMark) and mark.item in event.seals:
        yield key, getattr(event.seals[mark.item], mark.when) or ""
        yield f"{key}_permission", event.seals[mark.item].permission or ""


def _setting(mark: m.SettingMark, key: str, text: str) -> Iterator[tuple[str, str]]:
    """A setting's figure, and the notes behind it, each in its own box as far as there are any."""
    first, *notes = text.split(", ") if mark.note_also else (text,)
    yield key, first
    yield from ((f"{key}_note-{n}", note) for n, note in enumerate(notes, 1))


def _also(job: Job, event: Service) -> list[str]:
    """Parts renewed that have no row of their own."""
    names: Mapping[str, Any] = {one.item: one.name for one in job.instructions.spares}
    rows = {mark.item for step in job.instructions.steps for mark in step.marks
            if isinstance(mark, m.RenewMark) and not mark.if_needed}  # fmt: skip
    others = {item: number for item, number in event.renewed.items() if item not in rows}
    return [f"{names.get(item, item)}{'' if number == NOT_NOTED else f', {number}'}" for item, number in others.items()]


def _dealt(sheet: Sheet, event: Service) -> dict[str, str]:
    """The earlier findings that it closed."""
    words = JobWords.speaking(sheet.job.instructions.tongue)
    texts = {f.digest: wording.finding(f, words) for f in state_of(record_before(sheet), date.max).findings}
    closed = {texts.get(one.finding, ""): one.how or "" for one in event.dealt_with}
    found: dict[str, str] = {}
    for n, text in enumerate(sheet.job.issue.open_findings, 1):
        if text in closed:
            found |= {f"open-finding-{n}_done": "on", f"open-finding-{n}_how": closed[text]}
    return found
