"""The sign-off sheet's tables of figures: settings, critical fasteners, readings."""

from __future__ import annotations

from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.job.wording import in_text
from docgen.sheets.entries import Entries, told_value
from docgen.sheets.figures import capital, counted, drive, figure, thread
from docgen.sheets.parts import deviates
from docgen.sheets.tables import Column, Entry, Field, Table, Told


def settings(on: Entries) -> Table:
    """Settings as found and as left, one row each, wherever the steps note them."""
    w = on.w
    first: dict[str, tuple[JobStep, m.SettingMark]] = {}
    keys: dict[tuple[str, str], str] = {}
    for step, mark in on.marks(m.SettingMark):
        first.setdefault(mark.setting, (step, mark))
        keys[mark.setting, mark.when] = mark.key
    rows: list[tuple[Entry, ...]] = []
    for setting, (step, mark) in first.items():
        notes = [mark.datum] if mark.datum else []
        notes += [f"{w.ceiling} {figure(mark.ceiling, w)}"] if mark.ceiling else []
        boxes: list[Entry] = []
        for when, word in (("found", w.found), ("left", w.left)):
            key = keys.get((setting, when))
            unit = figure(mark.unit, w)
            if key is None:
                boxes.append(Told())
                continue
            more = tuple(
                Field(f"{key}_note-{n}", f"{mark.name}: {text}, {word}", label=text)
                for n, text in enumerate(mark.note_also, 1)
            )
            boxes.append((Field(key, f"{mark.name}: {word}", unit=unit), *more))
        rows.append(
            (
                on.void_of(mark.key, mark.name),
                on.number(step),
                Told(capital(mark.name), tuple(notes), bold=True),
                told_value(mark.start, w, own=deviates(mark, on.deviated)),
                Told(figure(on.issue.last_settings.get(setting, ""), w)),
                *boxes,
                on.initials_of(mark.key, mark.name),
            )
        )
    return Table(
        "settings",
        w.settings,
        (
            on.void,
            on.step,
            Column(w.setting, 38),
            Column(w.start_value, 31),
            Column(w.last, 22),
            Column(w.found, 27),
            Column(w.left, 27),
            on.initials,
        ),
        tuple(rows),
    )


def torques(on: Entries) -> Table:
    """Each critical fastener."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    for step, mark in on.marks(m.TorqueMark):
        own = deviates(mark, on.deviated)
        if not (mark.critical or own):
            continue
        name = counted(mark.name, mark.count)
        told = " · ".join(filter(None, (thread(mark.thread, w), drive(mark.drive, w) if mark.drive else "")))
        value: Entry = told_value(mark.value, w, *(figure(text, w) for text in mark.also), own=own)
        if mark.value.blank:
            value = Field(f"{mark.key}_value", f"{w.torque}: {name}, {w.see_manual}", label=w.see_manual)
        condition = w.lubrications.get(mark.lubrication, mark.lubrication)
        rows.append(
            (
                on.void_of(mark.key, name),
                on.number(step),
                Told(name, (told,) if told else (), bold=True),
                value,
                Field(
                    f"{mark.key}_{mark.lubrication}", f"{condition}: {name}", "checkbox", label=mark.locker or condition
                ),
                Told() if mark.by_feel else Field(f"{mark.key}_paint", f"{w.paint_mark}: {name}", "checkbox"),
                Field(f"{mark.key}_wrench", f"{w.wrench_used}: {name}"),
                on.initials_of(mark.key, name),
            )
        )
    return Table(
        "torques",
        w.torques,
        (
            on.void,
            on.step,
            Column(w.fastener, 42),
            Column(w.torque, 34),
            Column(w.thread_was, 30),
            Column(w.paint_mark, 12, True),
            Column(w.wrench_used, 24),
            on.initials,
        ),
        tuple(rows),
        w.torques_note,
    )


def readings(on: Entries) -> Table:
    """Each reading, with what was read before and what is allowed."""
    w = on.w
    rows: list[tuple[Entry, ...]] = []
    for step, mark in on.marks(m.ReadingMark):
        notes = [w.kinds.get(mark.kind, mark.kind)] if mark.kind else []
        notes += [f"{w.derived} {mark.derived}"] if mark.derived else []
        notes += [figure(mark.gauge, w)] if mark.gauge else []
        past = on.issue.last_readings.get(mark.limit, ())
        last = tuple(f"{figure(one.text, w)} {w.at_hours} {figure(one.hours, w)}" for one in past)
        wear = on.issue.wear.get(mark.limit, "")
        allow = told_value(mark.allow, w, own=deviates(mark, on.deviated))
        new = (f"{in_text(w.new_range, w)} {figure(mark.new.text, w)}",) if mark.new and not mark.new.blank else ()
        limit = Told(allow.text, (*allow.notes, *new), bold=not mark.accept, tag=allow.tag, own=allow.own)
        accept = Told(
            figure(mark.accept, w), (f"{w.undecided} {figure(mark.undecided, w)}",) if mark.undecided else (), bold=True
        )
        boxes = tuple(
            Field(
                f"{mark.key}_{n}" if mark.positions else mark.key,
                f"{mark.name}{f', {place}' if place else ''}, {mark.unit}",
                unit=figure(mark.unit, w),
                label=place,
            )
            for n, place in enumerate(mark.positions or ("",), 1)
        )
        rows.append(
            (
                on.void_of(mark.key, mark.name),
                on.number(step),
                Told(capital(mark.name), tuple(notes), bold=True),
                Told("", (*last, *((figure(wear, w),) if wear else ()))),
                limit,
                accept,
                boxes,
                on.initials_of(mark.key, mark.name),
            )
        )
    return Table(
        "readings",
        w.readings,
        (
            on.void,
            on.step,
            Column(w.reading, 34),
            Column(w.last, 29),
            Column(w.limit, 31),
            Column(w.accept, 31),
            Column(w.reading, 25),
            on.initials,
        ),
        tuple(rows),
    )
