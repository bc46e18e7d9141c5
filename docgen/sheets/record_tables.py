"""The sign-off sheet's tables: what is recorded of a job by exception, nothing twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, boxes
from docgen.job import marks as m
from docgen.job.job import Check, JobStep, PastReading
from docgen.job.wording import unit as in_units
from docgen.sheets.entries import Entries, expected, looked_at, marked, told_value
from docgen.sheets.figures import capital, counted, figure, noted, read_before, size_of, thread
from docgen.sheets.tables import Column, Entry, Field, Table, Told
from docgen.sheets.words import Words


def findings_open(on: Entries) -> Table:
    """Findings that the log still holds open."""
    w = on.w
    rows = tuple(
        (
            Told(one.text),
            Field(one.done_box, f"{w.dealt_with}: {one.text}", "checkbox"),
            Field(one.how_box, f"{w.how}: {one.text}"),
        )
        for one in on.issue.listed_findings
    )
    columns = (Column(w.finding, 80), Column(w.dealt_with, 18, True), Column(w.how, 84))
    return Table("open-findings", w.open_findings, columns, rows)


def jobs(on: Entries) -> Table:
    """The jobs of a visit, each to be ticked where it is complete."""
    w = on.w
    rows = tuple(
        (Told(f"{one.code} {one.title}"), Field(one.box, f"{w.visit_done}: {one.title}", "checkbox"))
        for one in on.told.parts
    )
    return Table("jobs", w.visit_jobs, (Column(w.visit_job, 76), Column(w.visit_done, 15, True)), rows, w.visit_note)


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
        ceiling = (f"{w.ceiling} {figure(mark.ceiling, w)}",) if mark.ceiling else ()
        boxes = [
            _setting_boxes(on, rowed.get((setting, when)), word)
            for when, word in (("found", w.found), ("left", w.left))
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
        Column(w.setting, 42),
        Column(w.start_value, 32),
        Column(w.last, 24),
        Column(w.found, 36),
        Column(w.left, 36),
    )
    return Table("settings", w.settings, columns, tuple(rows))


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
        said = (thread(mark.thread, w), size_of(mark.size, w), mark.locker or w.lubrications.get(mark.lubrication, ""))
        value: Entry = told_value(mark.value, w, own=own)
        if mark.value.blank:
            value = Field(mark.value_box, f"{w.torque}: {name}, {w.see_manual}", label=w.see_manual)
        paint = Field(mark.paint_box, f"{w.paint_mark}: {name}", "checkbox") if mark.painted else Told()
        rows.append(
            (
                on.number(step),
                Told(name, (" · ".join(filter(None, said)),), bold=True),
                value,
                *((paint,) if painted else ()),
                Field(mark.wrench_box, f"{w.wrench_used}: {name}"),
                Field(mark.initials_box, f"{w.initials}: {name}"),
            )
        )
    mark_column = (Column(w.paint_mark, 14, True),) if painted else ()
    columns = (
        on.step,
        Column(w.fastener, 74),
        Column(w.torque, 36),
        *mark_column,
        Column(w.wrench_used, 32),
        Column(w.initials, 18),
    )
    return Table("torques", w.torques, columns, tuple(rows))


def readings(on: Entries) -> Table:
    """Each reading, with what was read last and what is accepted; the bare limits are in the reading."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    for step, mark in marked(on.told, m.ReadingMark):
        notes = [w.kinds.get(mark.kind, mark.kind)] if mark.kind else []
        notes += [f"{w.derived} {mark.derived}"] if mark.derived else []
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
        Column(w.reading, 64),
        Column(w.last, 36),
        Column(w.accept, 38),
        Column(w.now, 32),
    )
    return Table("readings", w.readings, columns, tuple(rows))


def _last(one: PastReading, w: Words) -> tuple[str, ...]:
    """An earlier reading and its hours: on a line each where it is of several places."""
    said, at = read_before(one, w), f"{w.at_hours} {figure(one.hours, w)}"
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
                Told(w.seal_of.format(name=one.name)),
                Told(one.number, bold=True, filled=True),
                Field(removed.number_box, f"{w.number_removed}: {one.name}") if removed else Told(),
                Field(removed.permission_box, f"{w.permission}: {one.name}") if removed else Told(),
                Field(fitted.number_box, f"{w.number_fitted}: {one.name}") if fitted else Told(),
            )
        )
    columns = (
        Column(w.seal, 42),
        Column(w.seal_number, 28),
        Column(w.number_removed, 36),
        Column(w.permission, 42),
        Column(w.number_fitted, 36),
    )
    return Table("seals", w.seals, columns, tuple(rows))


def renewed(on: Entries) -> Table:
    """The parts that are expected to be renewed, and blank lines for others."""
    w = on.w
    rows: list[tuple[Entry, ...]] = [
        (
            on.number(step),
            Told(capital(mark.name)),
            Told(mark.number),
            Field(mark.renewed_box, f"{w.renewed}: {mark.name}", "checkbox"),
            Field(mark.number_box, f"{w.number_fitted}: {mark.name}"),
        )
        for step, mark in expected(on.told)
    ]
    columns = (
        on.step,
        Column(w.part, 70),
        Column(w.part_number, 40),
        Column(w.renewed, 16, True),
        Column(w.number_fitted, 46),
    )
    return Table("renewed", w.parts_renewed, columns, tuple(rows))


def rows(on: Entries, kind: type[Any]) -> Table:
    """The marks of a kind that has a table of its own: what each tells, and its boxes."""
    w, row, own = on.w, kind.row, boxes(kind)
    found: list[tuple[Entry, ...]] = []
    for step, mark in marked(on.told, kind):
        if getattr(mark, "signed", True):
            says, note = mark.told
            told = Told(says if isinstance(says, str) else figure(says, w), (note,) if note else (),
                        bold=not isinstance(says, str))  # fmt: skip
            fields = (Field(getattr(mark, name), f"{box.head(w)}: {told.text}",
                            "checkbox" if box.ticked else "text") for name, box in own.items())  # fmt: skip
            found.append((on.number(step), told, *fields))
    heads = (Column(box.head(w), box.share, box.ticked) for box in own.values())
    columns = (on.step, Column(row.head(w), row.share), *heads)
    return Table(row.table, row.title(w), columns, tuple(found), row.note(w))


def closing(on: Entries) -> Table:
    """All that was looked at in one line, good but for what is named; then the looks that are signed one by one."""
    w = on.w
    points = sum(1 for _ in looked_at(on.told))
    all_good = w.all_good.format(count=points)
    rows: list[tuple[Entry, ...]] = [_check(on, check.closing_box, check) for check in on.told.closing]
    if points:
        looked = (Told(all_good), Field(LOOKED_ALL, all_good, "checkbox"))
        rows = [looked, (Field(LOOKED_EXCEPT, w.looked_except, label=w.looked_except), Told()), *rows]
    return Table("closing", w.closing, (Column(w.what, 76), Column(w.good, 12, True)), tuple(rows))


def after_run(on: Entries) -> Table:
    """Checks after the first run."""
    w = on.w
    rows = tuple(_check(on, check.after_run_box, check) for check in on.told.after_run)
    return Table("after-run", w.after_run, (Column(w.what, 76), Column(w.good, 12, True)), rows)


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
