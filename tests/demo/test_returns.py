"""The sign-off sheets that the demo prints, filled in full and read back equal: by a program, and by hand in a viewer.

Every one in the benchmark; in an everyday run one of each job.

The viewer is PDFium, Chromium's engine: each field is clicked at its place on the page and typed into.

The values are awkward on purpose: accents, Japanese, a very long remark, readings at both ends of what to accept.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.readlog import read_entry
from docgen.club.schema.event import Service
from docgen.club.store import event_file
from docgen.job import marks as m
from docgen.job import wording
from docgen.job.issue import number_of
from docgen.job.job import Job
from docgen.job.number import SIGNOFF, SheetNumber
from docgen.plan.due import DUE, OVERDUE, due_list
from docgen.press.fields import FieldBox, boxes
from docgen.returns.form import MAX_VALUE, read_form, visible_numbers
from docgen.returns.identity import IssuedSheet, typed_number
from docgen.returns.reading import Understood, understand
from docgen.sheets.entries import keyed
from docgen.sheets.tables import OTHERS
from docgen.trade.quantity import Band, Quantity
from docgen.trade.units import units
from tests.demo.conftest import ON, ROOT, Printed
from tests.returns.filling import filled, filled_by_hand
from tests.shares import WHOLE

DONE = ON + timedelta(days=2)
TODAY = ON + timedelta(days=5)
NAME = "Zoë Kőszegi-Ćwikła 鈴木一郎"
REMARK = "Łagodnie: 締め付けトルクを確認した。 ½ × 3 ≤ µ – “quoted” 'colon: #hash' {brace} [list] "
LONG = "\n".join(f"{n}. {REMARK * 4}".rstrip() for n in range(1, 30))[: MAX_VALUE - 200].rstrip()
DUE_NOW = [
    (line.engine, line.job) for line in due_list(read_club(ROOT), ON) if line.job and line.state in (DUE, OVERDUE)
]
PRINTED = DUE_NOW if WHOLE else [(engine, job) for job, engine in {job: engine for engine, job in DUE_NOW}.items()]

Fields = dict[str, str]


def figures(job: Job) -> tuple[Fields, dict[str, Any]]:
    """A figure for every box that takes one, and what the event must hold of them."""
    written: Fields = {}
    readings: dict[str, list[str]] = {}
    settings: dict[str, dict[str, str]] = {}
    for _, mark, key in keyed(job.instructions.steps):
        if isinstance(mark, m.ReadingMark):
            band = mark.accept if isinstance(mark.accept, Band) else mark.limit_band
            assert band is not None
            ends = [end for end in (band.low, band.high) if end is not None]
            for n, _ in enumerate(mark.positions or ("",)):
                end = ends[n % len(ends)]
                written[f"{key}_{n + 1}" if mark.positions else key] = (
                    str(end).replace(".", ",") if n % 2 == 0 else f"{end}{mark.unit}"
                )
                readings.setdefault(mark.limit, []).append(str(Quantity(end, band.unit)))
        elif isinstance(mark, m.SettingMark):
            notes = [f"{text} 鈴" for text in mark.note_also]
            band, unit = mark.start.band, wording.unit(mark.unit)
            figure = str(band.low if band else "10/82")
            written |= {f"{key}_note-{n}": text for n, text in enumerate(notes, 1)} | {key: figure}
            first = f"{figure} {mark.unit if mark.unit in units() else unit}"
            settings.setdefault(mark.setting, {})[mark.when] = ", ".join((first, *notes))
    return written, {"readings": readings, "settings": settings}


def others(job: Job) -> list[tuple[str, str]]:
    """Item, and what is written on a blank line, of parts that only a failed check renews."""
    marks = [mark for _, mark, _ in keyed(job.instructions.steps) if isinstance(mark, m.RenewMark)]
    sure = {mark.item for mark in marks if not mark.if_needed}
    found = {
        mark.item: f"{mark.name}, {mark.number or 'X-99'}"
        for _, mark, _ in keyed(job.instructions.steps)
        if isinstance(mark, m.RenewMark) and mark.if_needed and mark.item not in sure
    }
    return list(found.items())[:OTHERS]


def answers(job: Job, found: list[FieldBox]) -> Fields:
    """Something in every field: all good, everything renewed, everything signed."""
    numbers, _ = figures(job)
    seals = {k: mark.number for _, mark, k in keyed(job.instructions.steps) if isinstance(mark, m.SealMark)}
    given = {
        **numbers,
        **{key: number for key, number in seals.items() if number},
        "engine-hours": str(float(job.issue.hours.value)),
        "findings": LONG,
        "next-due-hours": "99,9 h",
        "after-run-time": "12 min",
        "looked-except": "",
        **dict.fromkeys((f"also-renewed-{n}" for n in range(1, OTHERS + 1)), ""),
        **{f"also-renewed-{n}": text for n, (_, text) in enumerate(others(job), 1)},
    }
    dates = {"work-started": ON, "after-run-date": TODAY}
    out: Fields = {}
    for box in found:
        if box.kind == "tick":
            out[box.name] = "on"
        elif box.kind == "date":
            out[box.name] = dates.get(box.name, DONE).isoformat()
        else:
            out[box.name] = given.get(box.name, f"{NAME} {box.name.rpartition('_')[2]}")
    return out


def understood(demo: Folder, engine: str, job: Job, fields: Fields) -> Understood:
    number = SheetNumber(engine, job.instructions.code, job.instructions.revision, job.print, SIGNOFF)
    sheet = IssuedSheet(number, demo.engines[engine], job)
    return understand(sheet, fields, TODAY, job.instructions.revision)


def test_there_are_sheets_to_fill_in() -> None:
    assert len(DUE_NOW) > 20
    assert len({engine for engine, _ in DUE_NOW}) > 5
    assert {job for _, job in PRINTED} == {job for _, job in DUE_NOW}


@pytest.mark.parametrize(("engine", "procedure"), PRINTED)
def test_filled_and_read_back_equal(
    demo: Folder, printed: Printed, job: Callable[[str, str], Job], engine: str, procedure: str
) -> None:
    one, pdf = job(engine, procedure), printed(engine, procedure, "sign-off")
    found = boxes(pdf)
    assert len(found) > 20
    written = answers(one, found)
    for fill in (filled, filled_by_hand):
        form = read_form(fill(pdf, written))
        assert {name: text.replace("\r\n", "\n") for name, text in form.fields.items()} == written
        assert set(form.names.values()) == {number_of(one).body.replace("-L1", "-S1")}
        assert form.unclear == ()
    check_event(demo, engine, one, written)


def check_event(demo: Folder, engine: str, job: Job, written: Fields) -> None:
    """The event that the sheet becomes says all of it, and is read back from its file as it was written."""
    result = understood(demo, engine, job, written)
    assert [str(s) for s in result.refused] == []
    assert result.doubts == ()
    name, data = event_file(result.event, ())
    entry, problems = read_entry(f"engines/{engine}/log/{name}", data)
    assert problems == []
    assert entry is not None
    event = entry.event
    assert isinstance(event, Service)
    assert event == Service.model_validate(result.event)
    expected = figures(job)[1]
    assert {limit: [str(v) for v in values] for limit, values in event.readings.items()} == expected["readings"]
    assert {n: s.model_dump(exclude_none=True) for n, s in event.settings.items()} == expected["settings"]
    assert "\n".join(event.findings) == LONG
    assert (event.by, event.blank, event.struck) == (f"{NAME} done-by", (), f"{NAME} struck")
    marks = [(mark, key) for _, mark, key in keyed(job.instructions.steps)]
    sure = {mark.item for mark, _ in marks if isinstance(mark, m.RenewMark) and not mark.if_needed}
    assert set(event.renewed) == sure | {item for item, _ in others(job)}
    looks = {key for mark, key in marks if isinstance(mark, (m.LookMark, m.OrientationMark))}
    assert {key for key, word in event.checked.items() if word == "good"} == looks
    assert len(event.dealt_with) == len(job.issue.open_findings)
    seals = {mark.item for mark, _ in marks if isinstance(mark, m.SealMark)}
    assert set(event.seals) == seals
    assert set(event.holds) == {key for mark, key in marks if isinstance(mark, m.HoldMark)}


def test_the_viewer_shows_what_the_program_reads(printed: Printed, job: Callable[[str, str], Job]) -> None:
    """The sheet's number stays readable on every page of the filled file."""
    pdf = printed("023", "clutch-service", "sign-off")
    written = answers(job("023", "clutch-service"), boxes(pdf))
    told = job("023", "clutch-service").instructions
    numbers = visible_numbers(filled_by_hand(pdf, written))
    assert len(numbers) > 1
    pages = [f"023-CLU-{told.revision:02d}-001-S{page}" for page, _ in enumerate(numbers, 1)]
    assert [number.rpartition("-")[0] for number in numbers] == pages
    assert [typed_number(number).text for number in numbers] == list(numbers)
