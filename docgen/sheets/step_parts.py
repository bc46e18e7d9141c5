"""Each mark of a step as the parts that it is printed as."""

from __future__ import annotations

import re
from functools import singledispatch

from docgen.job import marks as m
from docgen.sheets.cells import Cell, Cells
from docgen.sheets.drawings.brought import titled
from docgen.sheets.drawings.gauging import NUMBERED, gauging_picture
from docgen.sheets.drawings.orientation import orientation_picture
from docgen.sheets.drawings.pattern import pattern_picture
from docgen.sheets.drawings.stack import Stacked, stack_picture
from docgen.sheets.figures import capital, counted, drive, figure, thread
from docgen.sheets.parts import Line, Panel, Part, With
from docgen.sheets.pictured import Picture
from docgen.sheets.words import Words


def value_cell(label: str, value: m.Value, words: Words, *, notes: tuple[str, ...] = (), large: bool = False) -> Cell:
    """The cell of one value, marked with where it came from when that is not the maker."""
    note = (figure(value.note, words),) if value.note and value.note != "maker" else ()
    if value.blank:
        return Cell(label, notes=note or (words.see_manual,), kind="blank")
    tag = {"computed": words.estimate, "club": words.club_figure}.get(value.origin, "")
    return Cell(
        label, capital(figure(value.text, words)), notes + note, large=large, tag=tag, own=value.origin == "deviation"
    )


def _same(one: str, other: str) -> bool:
    """Whether two values begin with the same figure: 5.0 N·m and 5 N·m ± 10 %."""
    figures = [re.match(r"[0-9.]+", text) for text in (one, other)]
    return all(figures) and len({float(found[0]) for found in figures if found}) == 1


@singledispatch
def parts(mark: m.Frozen, words: Words) -> tuple[Part, ...]:
    """The parts that one mark is printed as."""
    raise TypeError(f"no sheet prints a {type(mark).__name__}")


@parts.register
def _(mark: m.ToolMark, words: Words) -> tuple[Part, ...]:
    note = figure(mark.note, words)
    found: list[Part] = []
    if mark.drive or mark.count > 1 or note:
        found.append(With(counted(mark.name, mark.count), drive(mark.drive, words) if mark.drive else "", note))
    if mark.holding_tool:
        found.append(With(words.hold_with, mark.holding_tool))
    return tuple(found)


@parts.register
def _(mark: m.TorqueMark, words: Words) -> tuple[Part, ...]:
    also = tuple(figure(text, words) for text in mark.also)
    label = counted(mark.name, mark.count)
    if not (mark.thread or mark.by_feel or any(c.isdigit() for c in mark.value.text) or mark.value.blank):
        return (Line("tick", label, mark.value.text),)
    large = any(c.isdigit() for c in mark.value.text)
    cells = [value_cell(label, mark.value, words, notes=also, large=large)]
    if mark.set_to and not _same(mark.set_to, mark.value.text):
        cells.append(Cell(words.set_wrench, figure(mark.set_to, words), large=True, symbol="wrench"))
    if mark.hand_only:
        cells.append(Cell(words.hand_only, words.hand_only_note, symbol="prohibited"))
    if mark.locker:
        notes = (f"{words.cure} {figure(mark.cure, words)}",) if mark.cure else ()
        cells.append(Cell(words.locker, mark.locker, notes))
    elif mark.thread and not mark.by_feel:
        cells.append(
            Cell(
                words.threads_are,
                words.lubrications.get(mark.lubrication, mark.lubrication),
                (thread(mark.thread, words),),
            )
        )
    if mark.stages:
        cells.append(Cell(words.stages_of, ", ".join(figure(text, words) for text in mark.stages)))
    found: list[Part] = []
    if mark.drive:
        found.append(With("", drive(mark.drive, words)))
    if mark.wrench:
        found.append(With("", figure(mark.wrench, words)))
    if mark.holding_tool:
        found.append(With(words.hold_with, mark.holding_tool))
    if mark.start_all_first and mark.count > 1:
        found.append(Line("hand", words.start_first.format(count=mark.count), words.start_first_note + "."))
    found.append(Cells(tuple(cells), alone=True))
    if (order := pattern_picture(mark.pattern, mark.count)) is not None:
        found.append(Picture(order, words.order, label, ticked=False))
    if mark.governs and mark.value.origin != "computed":
        found.append(Line("mandatory", words.governs, mark.governs))
    return tuple(found)


@parts.register
def _(mark: m.StartMark, words: Words) -> tuple[Part, ...]:
    if mark.count == 1:
        return (Line("hand", words.start_one, mark.name + "."),)
    boxes = tuple(str(n + 1) for n in range(min(mark.count, 12)))
    return (
        Cells(
            (
                Cell(words.start_first.format(count=mark.count), mark.name, (words.start_first_note,), symbol="hand"),
                Cell(words.started_each, kind="tick", boxes=boxes),
            ),
            alone=True,
        ),
    )


@parts.register
def _(mark: m.OrientationMark, words: Words) -> tuple[Part, ...]:
    svg = orientation_picture(mark.name, mark.face, mark.towards, mark.shape, words.face_towards)
    return (
        Picture(
            svg,
            capital(mark.name),
            words.face_towards.format(face=mark.face, towards=mark.towards),
            facing=mark.towards,
        ),
    )


@parts.register
def _(mark: m.StackMark, words: Words) -> tuple[Part, ...]:
    legend = tuple(
        f"{one.name}: {words.face_towards.format(face=one.face, towards=one.towards)}" if one.face else one.name
        for one in mark.parts
    )
    title = f"{words.stacked}: " + "; ".join(f"{n} {text}" for n, text in enumerate(legend, 1))
    stacked = [Stacked(one.face, {"inwards": True, "outwards": False}.get(one.looks), one.shape) for one in mark.parts]
    return (Picture(stack_picture(stacked, title), words.stacked, "", ticked=False, legend=legend),)


@parts.register
def _(mark: m.DrawingMark, words: Words) -> tuple[Part, ...]:
    return (Picture(titled(mark.svg, mark.title), words.drawing, mark.title, ticked=False),)


@parts.register
def _(mark: m.RenewMark, words: Words) -> tuple[Part, ...]:
    return (With(words.renew_if if mark.if_needed else words.renew, mark.name, mark.number, boxed=True),)


@parts.register
def _(mark: m.ReadingMark, words: Words) -> tuple[Part, ...]:
    told = [words.kinds.get(mark.kind, mark.kind)] if mark.kind else []
    told += [f"{words.derived} {mark.derived}"] if mark.derived else []
    picture = None
    if mark.picture:
        picture = gauging_picture(mark.picture, mark.name, mark.where, mark.positions, words.taken_at)
    told += [mark.where] if mark.where and picture is None else []
    notes = [f"{words.new_range} {figure(mark.new.text, words)}"] if mark.new and not mark.new.blank else []
    limit = value_cell(words.limit, mark.allow, words, notes=tuple(notes), large=not mark.accept)
    cells = [Cell(capital(mark.name), notes=tuple(told), head=True), limit]
    if mark.accept:
        undecided = (f"{words.undecided} {figure(mark.undecided, words)}",) if mark.undecided else ()
        cells.append(Cell(words.accept, figure(mark.accept, words), undecided, large=True))
    by_number = picture and mark.picture in NUMBERED
    shown = [f"{n} {place}" if by_number else place for n, place in enumerate(mark.positions, 1)]
    boxes = [Cell(place or words.reading, kind="write", unit=figure(mark.unit, words)) for place in shown or ("",)]
    found: list[Part] = [With("", figure(mark.gauge, words))] if mark.gauge else []
    if picture:
        found.append(Picture(picture, words.taken, capital(mark.where or mark.name), ticked=False, measures=True))
    if len(boxes) > 2:
        found += [Cells(tuple(cells), alone=True), Cells(tuple(boxes), alone=True)]
    else:
        found.append(Cells((*cells, *boxes), alone=True))
    if mark.fail:
        found.append(Line("arrow", words.if_not, mark.fail))
    return tuple(found)


@parts.register
def _(mark: m.LookMark, words: Words) -> tuple[Part, ...]:
    good = Line("tick", words.good, mark.accept)
    return (good, Line("arrow", words.if_not, mark.fail)) if mark.fail else (good,)


@parts.register
def _(mark: m.HoldMark, words: Words) -> tuple[Part, ...]:
    return (Panel("hold", words.hold, mark.why, (words.checked_by, words.at_time), words.hold_text),)


@parts.register
def _(mark: m.SettingMark, words: Words) -> tuple[Part, ...]:
    when = words.found if mark.when == "found" else words.left
    picture = gauging_picture(mark.picture, mark.name, mark.datum, (), words.taken_at) if mark.picture else None
    datum = (mark.datum,) if mark.datum and picture is None else ()
    cells = [
        Cell(capital(mark.name), notes=datum, head=True),
        value_cell(words.start_value, mark.start, words, large=mark.when == "left"),
        Cell(when, kind="write", unit=figure(mark.unit, words)),
    ]
    if mark.ceiling:
        cells.insert(1, Cell(words.ceiling, figure(mark.ceiling, words), large=True))
    cells += [Cell(text, kind="write") for text in mark.note_also]
    found: list[Part] = []
    if picture:
        found.append(Picture(picture, words.taken, capital(mark.datum or mark.name), ticked=False, measures=True))
    return (*found, Cells(tuple(cells), alone=True))


@parts.register
def _(mark: m.SealMark, words: Words) -> tuple[Part, ...]:
    of = words.seal_of.format(name=mark.name)
    if mark.when == "removed":
        return (
            Panel(
                "stop", words.stop, f"{words.seal_removed}: {mark.number}", (words.permission, words.permission_on), of
            ),
        )
    return (Cells((Cell(words.seal_fitted, of), Cell(words.new_seal, kind="write"))),)


@parts.register
def _(mark: m.WaitMark, words: Words) -> tuple[Part, ...]:
    notes = (mark.why,) if mark.why else ()
    return (
        Cells(
            (
                Cell(words.wait, figure(mark.time, words), notes, large=True, symbol="clock"),
                Cell(words.wait_start, kind="write"),
                Cell(words.wait_end, kind="write"),
            ),
            alone=True,
        ),
    )


@parts.register
def _(mark: m.ApplyMark, words: Words) -> tuple[Part, ...]:
    label = words.clean if mark.cleaning else words.apply if mark.to else words.use
    amount = f", {figure(mark.amount, words)}" if mark.amount else ""
    return (With(label, mark.material + amount, ", ".join(mark.to)),)


@parts.register
def _(mark: m.RepeatMark, words: Words) -> tuple[Part, ...]:
    notes = (words.at_most.format(count=mark.at_most),) if mark.at_most else ()
    boxes = tuple(str(n + 1) for n in range(min(mark.at_most or 4, 10)))
    return (
        Cells(
            (
                Cell(words.until, figure(mark.until, words), notes, symbol="again"),
                Cell(words.done, kind="tick", boxes=boxes),
            )
        ),
    )


@parts.register
def _(mark: m.ValueMark, words: Words) -> tuple[Part, ...]:
    return (Cells((value_cell(capital(mark.name), mark.value, words, large=True),)),)
