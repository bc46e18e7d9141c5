"""The sign-off sheet's tables: what is recorded of a job by exception, nothing twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, boxes
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.job import Check, JobStep, PastReading
from docgen.job.wording import unit as in_units
from docgen.sheets.entries import Entries, expected, looked_at, marked, told_value
from docgen.sheets.figures import KINDS, LUBRICATIONS, capital, counted, figure, noted, read_before, size_of, thread
from docgen.sheets.tables import Column, Entry, Field, Table, Told


def findings_open(on: Entries) -> Table:
    """Findings that the log still holds open."""
    w = on.w
    rows = tuple(
        (
            Told(one.text),
            Field(one.done_box, f"{w('Dealt with')}: {one.text}", "checkbox"),
            Field(one.how_box, f"{w('How')}: {one.text}"),
        )
        for one in on.issue.listed_findings
    )
    columns = (Column(w("Finding"), 80), Column(w("Dealt with"), 18, True), Column(w("How"), 84))
    return Table("open-findings", w("Open findings"), columns, rows)


def jobs(on: Entries) -> Table:
    """The jobs of a visit, each to be ticked where it is complete."""
    w = on.w
    rows = tuple(
        (Told(f"{one.code} {one.title}"), Field(one.box, f"{w('Complete')}: {one.title}", "checkbox"))
        for one in on.told.parts
    )
    columns = (Column(w("Job"), 76), Column(w("Complete"), 15, True))
    return Table("jobs", w("Jobs of this visit"), columns, rows, w("One that is not ticked stays open."))


def settings(on: Entries) -> Table:
    """Settings as found and as left, one row each, wherever the steps note them."""
    w = on.w
    first: dict[str, tuple[JobStep, m.SettingMark]] = {}
    rowed: dict[tuple[str, str], m.SettingMark] = {}
    for step, mark in marked(on.told, m.SettingMark):
        first.setdefault(mark.setting, (step, mark))
        rowed[mark.setting, mark.when] = mark
    rows: list[tuple[Entry, ...]] = []
    for setting, (step, mark) in first.items():
        ceiling = (f"{w('Never above')} {figure(mark.ceiling, w)}",) if mark.ceiling else ()
        boxes = [
            _setting_boxes(on, rowed.get((setting, when)), word)
            for when, word in (("found", w("As found")), ("left", w("As left")))
        ]
        rows.append(
            (
                on.number(step),
                Told(capital(mark.name), ceiling, bold=True),
                told_value(mark.start, w, own=m.deviates(mark, on.deviated)),
                Told(figure(noted(on.issue.last_settings.get(setting, ""), w), w), filled=True),
                *boxes,
            )
        )
    columns = (
        on.step,
        Column(w("Setting"), 42),
        Column(w("Starting value"), 32),
        Column(w("Last"), 24),
        Column(w("As found"), 36),
        Column(w("As left"), 36),
    )
    return Table("settings", w("Settings"), columns, tuple(rows))


def _setting_boxes(on: Entries, mark: m.SettingMark | None, word: str) -> Entry:
    if mark is None:
        return Told()
    also = zip(mark.note_boxes, mark.note_also, strict=True)
    more = tuple(Field(at, f"{mark.name}: {text}, {word}", label=text) for at, text in also)
    return (Field(mark.value_box, f"{mark.name}: {word}", unit=in_units(mark.unit, on.w)), *more)


def torques(on: Entries) -> Table:
    """Each critical fastener, and each that is not as its model: the wrench that tightened it, and by whom."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    painted = any(mark.painted for _, mark in marked(on.told, m.TorqueMark))
    for step, mark in marked(on.told, m.TorqueMark):
        own = m.deviates(mark, on.deviated)
        if not (mark.critical or own) or mark.by_feel:
            continue
        name = counted(mark.name, mark.count)
        said = (thread(mark.thread, w), size_of(mark.size, w), mark.locker or w(LUBRICATIONS.get(mark.lubrication, "")))
        value: Entry = told_value(mark.value, w, own=own)
        if mark.value.blank:
            see = w("see the maker’s manual")
            value = Field(mark.value_box, f"{w('Torque')}: {name}, {see}", label=see)
        paint = Field(mark.paint_box, f"{w('Paint mark')}: {name}", "checkbox") if mark.painted else Told()
        rows.append(
            (
                on.number(step),
                Told(name, (" · ".join(filter(None, said)),), bold=True),
                value,
                *((paint,) if painted else ()),
                Field(mark.wrench_box, f"{w('Wrench used')}: {name}"),
                Field(mark.initials_box, f"{w('Initials')}: {name}"),
            )
        )
    mark_column = (Column(w("Paint mark"), 14, True),) if painted else ()
    columns = (
        on.step,
        Column(w("Fastener"), 74),
        Column(w("Torque"), 36),
        *mark_column,
        Column(w("Wrench used"), 32),
        Column(w("Initials"), 18),
    )
    return Table("torques", w("Critical fasteners"), columns, tuple(rows))


def readings(on: Entries) -> Table:
    """Each reading, with what was read last and what is accepted; the bare limits are in the reading."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    for step, mark in marked(on.told, m.ReadingMark):
        notes = [w(KINDS.get(mark.kind, mark.kind))] if mark.kind else []
        notes += [f"{w('from')} {mark.derived}"] if mark.derived else []
        past = on.issue.last_readings.get(mark.limit, ())[-1:]
        last = tuple(line for one in past for line in _last(one, w))
        allow = told_value(mark.allow, w, own=m.deviates(mark, on.deviated))
        accept = figure(mark.accept, w) if mark.accept else ""
        rows.append(
            (
                on.number(step),
                Told(capital(mark.name), (", ".join(notes),) if notes else (), bold=True),
                Told("", last, filled=True),
                replace(allow, text=accept, bold=True) if accept else replace(allow, bold=True),
                _reading_boxes(on, mark),
            )
        )
    columns = (
        on.step,
        Column(w("Reading"), 64),
        Column(w("Last"), 36),
        Column(w("Accept"), 38),
        Column(w("Now"), 32),
    )
    return Table("readings", w("Readings"), columns, tuple(rows))


def _last(one: PastReading, w: Words) -> tuple[str, ...]:
    """An earlier reading and its hours: on a line each where it is of several places."""
    said, at = read_before(one, w), f"{w('at')} {figure(one.hours, w)}"
    return (said, at) if len(one.values) > 1 else (f"{said} {at}",)


def _reading_boxes(on: Entries, mark: m.ReadingMark) -> tuple[Field, ...]:
    unit = in_units(mark.unit, on.w)
    return tuple(
        Field(at, f"{mark.name}{f', {place}' if place else ''}, {unit}", unit=unit, label=place)
        for at, place in zip(mark.boxes, mark.positions or ("",), strict=True)
    )


def seals(on: Entries) -> Table:
    """Seals broken and fitted."""
    w = on.w
    found: dict[str, dict[str, m.SealMark]] = {}
    for _, mark in marked(on.told, m.SealMark):
        found.setdefault(mark.item, {})[mark.when] = mark
    rows: list[tuple[Entry, ...]] = []
    for both in found.values():
        removed, fitted = both.get("removed"), both.get("fitted")
        one = removed or fitted
        assert one is not None
        rows.append(
            (
                Told(w("Seal on the {name}", name=one.name)),
                Told(one.number, bold=True, filled=True),
                Field(removed.number_box, f"{w('Number removed')}: {one.name}") if removed else Told(),
                Field(removed.permission_box, f"{w('Permission given by')}: {one.name}") if removed else Told(),
                Field(fitted.number_box, f"{w('Number fitted')}: {one.name}") if fitted else Told(),
            )
        )
    columns = (
        Column(w("Seal"), 42),
        Column(w("Number on record"), 28),
        Column(w("Number removed"), 36),
        Column(w("Permission given by"), 42),
        Column(w("Number fitted"), 36),
    )
    return Table("seals", w("Seals"), columns, tuple(rows))


def renewed(on: Entries) -> Table:
    """The parts that are expected to be renewed, and blank lines for others."""
    w = on.w
    rows: list[tuple[Entry, ...]] = [
        (
            on.number(step),
            Told(capital(mark.name)),
            Told(mark.number),
            Field(mark.renewed_box, f"{w('Renewed')}: {mark.name}", "checkbox"),
            Field(mark.number_box, f"{w('Number fitted')}: {mark.name}"),
        )
        for step, mark in expected(on.told)
    ]
    columns = (
        on.step,
        Column(w("Part"), 70),
        Column(w("Part number"), 40),
        Column(w("Renewed"), 16, True),
        Column(w("Number fitted"), 46),
    )
    return Table("renewed", w("Parts renewed"), columns, tuple(rows))


def rows(on: Entries, kind: type[Any]) -> Table:
    """The marks of a kind that has a table of its own: what each tells, and its boxes."""
    w, row, own = on.w, kind.row, boxes(kind)
    found: list[tuple[Entry, ...]] = []
    for step, mark in marked(on.told, kind):
        if getattr(mark, "signed", True):
            says, note = mark.told
            told = Told(says if isinstance(says, str) else figure(says, w), (note,) if note else (),
                        bold=not isinstance(says, str))  # fmt: skip
            fields = (Field(getattr(mark, name), f"{w(box.head)}: {told.text}",
                            "checkbox" if box.ticked else "text") for name, box in own.items())  # fmt: skip
            found.append((on.number(step), told, *fields))
    heads = (Column(w(box.head), box.share, box.ticked) for box in own.values())
    columns = (on.step, Column(w(row.head), row.share), *heads)
    return Table(row.table, w(row.title), columns, tuple(found), w(row.note))


def closing(on: Entries) -> Table:
    """All that was looked at in one line, good but for what is named; then the looks that are signed one by one."""
    w = on.w
    points = sum(1 for _ in looked_at(on.told))
    all_good = w("All {count} points looked at, and ways round: good", count=points)
    rows: list[tuple[Entry, ...]] = [_check(on, check.closing_box, check) for check in on.told.closing]
    if points:
        looked, but = (Told(all_good), Field(LOOKED_ALL, all_good, "checkbox")), w("Except: rows, and what was found")
        rows = [looked, (Field(LOOKED_EXCEPT, but, label=but), Told()), *rows]
    return Table("closing", w("Before you sign"), (Column(w("What"), 76), Column(w("Good"), 12, True)), tuple(rows))


def after_run(on: Entries) -> Table:
    """Checks after the first run."""
    w = on.w
    rows = tuple(_check(on, check.after_run_box, check) for check in on.told.after_run)
    return Table("after-run", w("After the first run"), (Column(w("What"), 76), Column(w("Good"), 12, True)), rows)


def _check(on: Entries, box: str, check: Check) -> tuple[Entry, ...]:
    good = (figure(check.accept, on.w),) if check.accept else ()
    return (Told(figure(check.text, on.w), good), Field(box, check.text, "checkbox"))


def tables(on: Entries) -> Iterator[Table]:
    """The sheet's tables that have rows, in their order, but for those of :func:`checks`."""
    first = (made(on) for made in (jobs, findings_open, settings, torques, readings))
    found = chain(first, (rows(on, kind) for kind in m.ROWED), (seals(on), renewed(on)))
    return (table for table in found if table.rows)


def checks(on: Entries) -> Iterator[Table]:
    """The closing checks and those after the first run, where there are any."""
    return (table for made in (closing, after_run) if (table := made(on)).rows)
