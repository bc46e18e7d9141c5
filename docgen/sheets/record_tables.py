"""The sign-off sheet's tables: what is recorded of a job by exception, nothing twice."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain
from typing import Any

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, boxes
from docgen.job import marks as m
from docgen.job.job import Check, JobStep
from docgen.job.wording import unit as in_units
from docgen.sheets.entries import Entries, expected, looked_at, marked, told_value
from docgen.sheets.figures import KINDS, LUBRICATIONS, capital, counted, figure, noted, read_before, size_of, thread
from docgen.sheets.tables import Entry, Field, Table, Told, table_of


def findings_open(entries: Entries) -> Table:
    """Findings that the log still holds open."""
    w = entries.w
    rows = (
        (
            Told(one.text),
            Field(one.done_box, f"{w('Dealt with')}: {one.text}", "checkbox"),
            Field(one.how_box, f"{w('How')}: {one.text}"),
        )
        for one in entries.issue.listed_findings
    )
    heads = ((w("Finding"), 80), (w("Dealt with"), 18), (w("How"), 84))
    return table_of("open-findings", w("Open findings"), heads, rows)


def jobs(entries: Entries) -> Table:
    """The jobs of a visit, each to be ticked where it is complete."""
    w = entries.w
    rows = (
        (Told(f"{one.code} {one.title}"), Field(one.box, f"{w('Complete')}: {one.title}", "checkbox"))
        for one in entries.told.parts
    )
    heads, note = ((w("Job"), 76), (w("Complete"), 15)), w("One that is not ticked stays open.")
    return table_of("jobs", w("Jobs of this visit"), heads, rows, note)


def settings(entries: Entries) -> Table:
    """Settings as found and as left, one row each, with all rows of the leaf that note them."""
    w, shown = entries.w, (("found", entries.w("As found")), ("left", entries.w("As left")))
    first: dict[str, m.SettingMark] = {}
    places: dict[str, dict[str, None]] = {}
    rowed: dict[tuple[str, str], m.SettingMark] = {}
    for step, mark in marked(entries.told, m.SettingMark):
        first.setdefault(mark.setting, mark)
        places.setdefault(mark.setting, {})[step.called] = None
        rowed[mark.setting, mark.when] = mark
    rows = (
        (
            Told(next(iter(places[setting])), tuple(places[setting])[1:]),
            Told(capital(mark.name), (f"{w('Never above')} {figure(mark.ceiling, w)}",) if mark.ceiling else (), True),
            told_value(mark.start, w, own=m.deviates(mark, entries.deviated)),
            Told(figure(noted(entries.issue.last_settings.get(setting, ""), w), w), filled=True),
            *(_setting_boxes(entries, rowed.get((setting, when)), word) for when, word in shown),
        )
        for setting, mark in first.items()
    )
    heads = ((w("Setting"), 42), (w("Starting value"), 32), (w("Last"), 24), (w("As found"), 36), (w("As left"), 36))
    return table_of("settings", w("Settings"), (entries.step, *heads), rows)


def _setting_boxes(entries: Entries, mark: m.SettingMark | None, word: str) -> Entry:
    if mark is None:
        return Told()
    also = zip(mark.note_boxes, mark.note_also, strict=True)
    more = tuple(Field(at, f"{mark.name}: {text}, {word}", label=text) for at, text in also)
    return (Field(mark.value_box, f"{mark.name}: {word}", unit=in_units(mark.unit, entries.w)), *more)


def torques(entries: Entries) -> Table:
    """Each critical fastener, and each that is not as its model: the wrench that tightened it, and by whom."""
    w = entries.w
    painted = any(mark.painted for _, mark in marked(entries.told, m.TorqueMark))
    rows = (
        _torque(entries, step, mark, painted)
        for step, mark in marked(entries.told, m.TorqueMark)
        if (mark.critical or m.deviates(mark, entries.deviated)) and not mark.by_feel
    )
    paint = ((w("Paint mark"), 14),) if painted else ()
    heads = ((w("Fastener"), 74), (w("Torque"), 36), *paint, (w("Wrench used"), 32), (w("Initials"), 18))
    return table_of("torques", w("Critical fasteners"), (entries.step, *heads), rows)


def _torque(entries: Entries, step: JobStep, mark: m.TorqueMark, painted: bool) -> tuple[Entry, ...]:
    w, name = entries.w, counted(mark.name, mark.count)
    said = (thread(mark.thread, w), size_of(mark.size, w), mark.locker or w(LUBRICATIONS.get(mark.lubrication, "")))
    value: Entry = told_value(mark.value, w, own=m.deviates(mark, entries.deviated))
    if mark.value.blank:
        see = w("see the maker’s manual")
        value = Field(mark.value_box, f"{w('Torque')}: {name}, {see}", label=see)
    paint = Field(mark.paint_box, f"{w('Paint mark')}: {name}", "checkbox") if mark.painted else Told()
    return (
        Told(step.called),
        Told(name, (" · ".join(filter(None, said)),), bold=True),
        value,
        *((paint,) if painted else ()),
        Field(mark.wrench_box, f"{w('Wrench used')}: {name}"),
        Field(mark.initials_box, f"{w('Initials')}: {name}"),
    )


def readings(entries: Entries) -> Table:
    """Each reading, with what was read last and what is accepted; the bare limits are in the reading."""
    w = entries.w
    rows = (_reading(entries, step, mark) for step, mark in marked(entries.told, m.ReadingMark))
    heads = ((w("Reading"), 64), (w("Last"), 36), (w("Accept"), 38), (w("Now"), 32))
    return table_of("readings", w("Readings"), (entries.step, *heads), rows)


def _reading(entries: Entries, step: JobStep, mark: m.ReadingMark) -> tuple[Entry, ...]:
    w, unit = entries.w, in_units(mark.unit, entries.w)
    notes = [w(KINDS.get(mark.kind, mark.kind))] if mark.kind else []
    notes += [f"{w('from')} {mark.derived}"] if mark.derived else []
    last: tuple[str, ...] = ()
    for one in entries.issue.last_readings.get(mark.limit, ())[-1:]:  # on a line each where it is of several places
        said, at = read_before(one, w), f"{w('at')} {figure(one.hours, w)}"
        last = (said, at) if len(one.values) > 1 else (f"{said} {at}",)
    allow = told_value(mark.allow, w, own=m.deviates(mark, entries.deviated))
    boxes = tuple(
        Field(at, f"{mark.name}{f', {place}' if place else ''}, {unit}", unit=unit, label=place)
        for at, place in zip(mark.boxes, mark.positions or ("",), strict=True)
    )
    return (
        Told(step.called),
        Told(capital(mark.name), (", ".join(notes),) if notes else (), bold=True),
        Told("", last, filled=True),
        replace(allow, text=figure(mark.accept, w) if mark.accept else allow.text, bold=True),
        boxes,
    )


def seals(entries: Entries) -> Table:
    """Seals broken and fitted."""
    w = entries.w
    found: dict[str, dict[str, m.SealMark]] = {}
    for _, mark in marked(entries.told, m.SealMark):
        found.setdefault(mark.item, {})[mark.when] = mark

    def box(mark: m.SealMark | None, name: str, asks: str) -> Entry:
        return Field(getattr(mark, name), f"{asks}: {mark.name}") if mark else Told()

    asked = (("removed", "number_box", w("Number removed"), 36),
             ("removed", "permission_box", w("Permission given by"), 42),
             ("fitted", "number_box", w("Number fitted"), 36))  # fmt: skip
    rows = (
        (
            Told(w("Seal on the {name}", name=one.name)),
            Told(one.number, bold=True, filled=True),
            *(box(both.get(when), name, asks) for when, name, asks, _ in asked),
        )
        for both in found.values()
        for one in (both.get("removed") or both["fitted"],)
    )
    heads = ((w("Seal"), 42), (w("Number on record"), 28), *((asks, share) for _, _, asks, share in asked))
    return table_of("seals", w("Seals"), heads, rows)


def renewed(entries: Entries) -> Table:
    """The parts that are expected to be renewed, and blank lines for others."""
    w = entries.w
    rows = (
        (
            Told(step.called),
            Told(capital(mark.name)),
            Told(mark.number),
            Field(mark.renewed_box, f"{w('Renewed')}: {mark.name}", "checkbox"),
            Field(mark.number_box, f"{w('Number fitted')}: {mark.name}"),
        )
        for step, mark in expected(entries.told)
    )
    heads = ((w("Part"), 70), (w("Part number"), 40), (w("Renewed"), 16), (w("Number fitted"), 46))
    return table_of("renewed", w("Parts renewed"), (entries.step, *heads), rows)


def rows(entries: Entries, kind: type[Any]) -> Table:
    """The marks of a kind that has a table of its own: what each tells, and its boxes."""
    w, row, own = entries.w, kind.row, boxes(kind)
    found: list[tuple[Entry, ...]] = []
    for step, mark in marked(entries.told, kind):
        if getattr(mark, "signed", True):
            says, note = mark.told
            told = Told(says if isinstance(says, str) else figure(says, w), (note,) if note else (),
                        bold=not isinstance(says, str))  # fmt: skip
            fields = (Field(getattr(mark, name), f"{w(box.head)}: {told.text}",
                            "checkbox" if box.ticked else "text") for name, box in own.items())  # fmt: skip
            found.append((Told(step.called), told, *fields))
    heads = ((w(one.head), one.share) for one in (row, *own.values()))
    return table_of(row.table, w(row.title), (entries.step, *heads), found, w(row.note))


def closing(entries: Entries) -> Table:
    """All that was looked at in one line, good but for what is named; then the looks that are signed one by one."""
    w = entries.w
    points = sum(1 for _ in looked_at(entries.told))
    all_good = w("All {count} points looked at, and ways round: good", count=points)
    rows: list[tuple[Entry, ...]] = [_check(entries, check.closing_box, check) for check in entries.told.closing]
    if points:
        but = w("Except: rows, and what was found")
        looked = (Told(all_good), Field(LOOKED_ALL, all_good, "checkbox"))
        rows = [looked, (Field(LOOKED_EXCEPT, but, label=but), Told()), *rows]
    return table_of("closing", w("Before you sign"), ((w("What"), 76), (w("Good"), 12)), rows)


def after_run(entries: Entries) -> Table:
    """Checks after the first run."""
    w = entries.w
    rows = (_check(entries, check.after_run_box, check) for check in entries.told.after_run)
    return table_of("after-run", w("After the first run"), ((w("What"), 76), (w("Good"), 12)), rows)


def _check(entries: Entries, box: str, check: Check) -> tuple[Entry, ...]:
    good = (figure(check.accept, entries.w),) if check.accept else ()
    return (Told(figure(check.text, entries.w), good), Field(box, check.text, "checkbox"))


def tables(entries: Entries) -> Iterator[Table]:
    """The sheet's tables that have rows, in their order, but for those of :func:`checks`."""
    first = (made(entries) for made in (jobs, findings_open, settings, torques, readings))
    found = chain(first, (rows(entries, kind) for kind in m.ROWED), (seals(entries), renewed(entries)))
    return (table for table in found if table.rows)


def checks(entries: Entries) -> Iterator[Table]:
    """The closing checks and those after the first run, where there are any."""
    return (table for made in (closing, after_run) if (table := made(entries)).rows)
