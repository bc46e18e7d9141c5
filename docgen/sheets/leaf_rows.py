"""The rows of the bench leaf: the mechanic's line, and what the program puts beside it and below it.

Beside the line, at the right, stands what is set, accepted or written; below it what comes from the model or the
record: which way round, which number, who checks. All else is in the line's own words, and proofing holds it to that.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import NamedTuple

from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.job.job import JobRow, JobStep
from docgen.job.wording import unit
from docgen.sheets.drawings.chosen import drawings_for
from docgen.sheets.figures import capital, figure, size_of, undecided
from docgen.sheets.measure import longest_word, width
from docgen.sheets.scale import Scale

MOST_BOXES = 3
"""Boxes to write into that stand side by side."""


@dataclass(frozen=True)
class Beside:
    """One figure at the right of a row.

    value : set large; ``label`` before it where a row has several, ``notes`` small below it
    blank : nobody gave the figure: a dotted line
    write : unit of a box to write into below it; None for no box
    """

    label: str = ""
    value: str = ""
    notes: tuple[str, ...] = ()
    tag: str = ""
    own: str = ""
    blank: bool = False
    write: str | None = None
    asks: str = ""

    @property
    def wide(self) -> float:
        """The width that it needs at least and would like, in ems of the small size."""
        value = 1.4 * min(width(self.value, bold=True), max(longest_word(self.value, bold=True), 7.0))
        notes = [min(width(text), max(longest_word(text), 8.0)) for text in (*self.notes, self.label, self.asks)]
        box = 0.0 if self.write is None else max(7.5, width(self.asks) + width(self.write) + 1.8)
        tags = [width(text) + 1.0 for text in (self.tag, self.own) if text]
        return max(value, box, *tags, *notes, 5.4 if self.blank else 0.0)


class Box(NamedTuple):
    """A box to write into, over a share of the row's width: its label and its unit."""

    label: str
    unit: str = ""


@dataclass(frozen=True)
class Below:
    """A line below the row's: ``kind`` is way (round), new, hand, note, or boxes (to write into), ticks."""

    kind: str
    text: str = ""
    boxes: tuple[Box, ...] = ()


class Drawn(NamedTuple):
    """A drawing that stands below the row where there is room; ``rank`` says how welcome it is, 1 the most."""

    svg: str
    caption: str
    rank: int


RANKS = ("stack", "orientation", "setting", "reading", "look", "torque", "apply", "drawing")
"""The marks whose drawings are wanted, the most welcome first: the order of parts, which way round, how high."""


def beside(row: JobRow, deviated: frozenset[str], words: Words) -> tuple[Beside, ...]:
    """What is set, accepted or written in a row; where that is nothing, what its screws are turned with."""
    marks = [mark for step in row.steps for mark in step.marks]
    made = [one for mark in marks for one in _beside(mark, m.deviates(mark, deviated), words)]
    drives = dict.fromkeys(size_of(mark.size, words) for mark in marks if isinstance(mark, m.ToolMark) and mark.size)
    if drives and not made:
        made.append(Beside(notes=(", ".join(drives),)))
    return _told_apart(made)


def below(row: JobRow, words: Words) -> list[Below]:
    """The lines below a row's own."""
    return list(_joined(one for step in row.steps for one in _below(step, words)))


def drawn(row: JobRow, words: Words, scale: Scale, room: float) -> Iterator[Drawn]:
    """The drawings of a row that are legible in a column of ``room`` mm."""
    for mark in _pictured_once([mark for step in row.steps for mark in step.marks]):
        for one in drawings_for(mark, words):
            legend = "; ".join(f"{n} {text}" for n, text in enumerate(one.legend, 1))
            if svg := one.legible(scale.small, room):
                yield Drawn(svg, legend, 1 + RANKS.index(mark.mark))


def _pictured_once(marks: list[m.Mark]) -> list[m.Mark]:
    """The marks without a look whose picture another look in the row has already."""
    first = {mark.picture: mark for mark in reversed(marks) if isinstance(mark, m.LookMark) and mark.picture}
    return [mark for mark in marks if not isinstance(mark, m.LookMark) or first.get(mark.picture, mark) is mark]


def _told_apart(made: list[Beside]) -> tuple[Beside, ...]:
    """A single figure needs no name: the row's line has it. The same figure twice in a row stands once."""
    made = list(dict.fromkeys(made))
    figures = [one for one in made if one.value or one.blank or one.write is not None]
    return tuple(replace(one, label="") for one in made) if len(figures) < 2 else tuple(made)


def _value(label: str, value: Figure, words: Words, own: bool, notes: Iterable[str] = (), large: str = "") -> Beside:
    """A figure with where it came from; ``large`` is what is set, where that is not the figure as it was given."""
    if value.blank:
        return Beside(label, notes=(words("see the maker’s manual"), *notes), blank=True)
    tag = {"computed": words("estimate"), "club": words("club’s figure")}.get(value.origin, "")
    engine = words("this engine") if own or value.origin == "deviation" else ""
    return Beside(label, large or figure(value, words), tuple(notes), tag, engine)


def _beside(mark: m.Mark, own: bool, words: Words) -> Iterator[Beside]:
    match mark:
        case m.TorqueMark():
            yield from _torque(mark, own, words)
        case m.ReadingMark():
            yield from _reading(mark, own, words)
        case m.SettingMark():
            yield from _setting(mark, own, words)
        case m.WaitMark():
            yield Beside(value=figure(mark.time, words), write="", asks=words("not before"))
        case m.ValueMark():
            yield _value(capital(mark.name), mark.value, words, own)


def _torque(mark: m.TorqueMark, own: bool, words: Words) -> Iterator[Beside]:
    if not (mark.value.blank or mark.value.band):
        return
    yield _value(
        capital(mark.name),
        mark.value,
        words,
        own,
        filter(None, [size_of(mark.size, words)]),
        figure(mark.set_to, words) if mark.set_to else "",
    )


def _reading(mark: m.ReadingMark, own: bool, words: Words) -> Iterator[Beside]:
    write = unit(mark.unit, words) if len(mark.positions) < 2 else None
    if mark.accept:
        here, accept = words("this engine") if own else "", figure(mark.accept, words)
        yield Beside(capital(mark.name), accept, undecided(mark, words), own=here, write=write)
    else:
        yield replace(_value(capital(mark.name), mark.allow, words, own), write=write)


def _setting(mark: m.SettingMark, own: bool, words: Words) -> Iterator[Beside]:
    in_unit = unit(mark.unit, words)
    notes = [figure(mark.datum, words)] if mark.datum else []
    notes += [f"{words('Never above')} {figure(mark.ceiling, words)}"] if mark.ceiling else []
    if mark.when == "found":
        yield Beside(capital(mark.name), notes=tuple(notes), asks=words("As found"), write=in_unit)
        return
    yield replace(_value(capital(mark.name), mark.start, words, own, notes), write=in_unit, asks=words("As left"))


def _below(step: JobStep, words: Words) -> Iterator[Below]:
    for mark in step.marks:
        match mark:
            case m.OrientationMark():
                way = words("{face} towards {towards}", face=mark.face, towards=mark.towards)
                yield Below("way", f"{capital(mark.name)}: {way}")
            case m.TorqueMark() if mark.thread or mark.by_feel or mark.locker:
                told = [words("Hands only")] if mark.hand_only else []
                told += [figure(mark.value, words)] if mark.by_feel else []
                told += (
                    [words("In stages").lower() + " " + ", ".join(figure(one, words) for one in mark.stages)]
                    if mark.stages
                    else []
                )
                told += [mark.locker] if mark.locker else []
                if told:
                    yield Below("with", " · ".join(told))
            case m.RenewMark() if not mark.if_needed and mark.number:
                yield Below("new", f"{words('new:')} {mark.name} {mark.number}")
            case m.ReadingMark() if len(mark.positions) > 1:
                boxes = [Box(place, unit(mark.unit, words)) for place in mark.positions]
                share = ceil(len(boxes) / ceil(len(boxes) / MOST_BOXES))
                yield from (Below("boxes", boxes=tuple(boxes[n : n + share])) for n in range(0, len(boxes), share))
            case m.SettingMark() if mark.note_also:
                yield Below("boxes", boxes=tuple(Box(text) for text in mark.note_also))
            case m.SealMark() if mark.when == "fitted":
                yield Below("boxes", boxes=(Box(f"{words('New seal number')}, {mark.name}"),))
            case m.RepeatMark():
                count = min(mark.at_most or 4, 10)
                until = f"{words('Again until')}: {figure(mark.until, words)}"
                yield Below("ticks", until, tuple(Box(str(n + 1)) for n in range(count)))


def _joined(found: Iterable[Below]) -> Iterator[Below]:
    """Part numbers of one row on one line, what is in hand on another; the same line once."""
    kept = list(dict.fromkeys(found))
    for kind, joint in (("way", ""), ("new", ", "), ("with", " · ")):
        same = [one.text for one in kept if one.kind == kind]
        if joint and same:
            yield Below(kind, joint.join(dict.fromkeys(joint.join(same).split(joint))))
        else:
            yield from (one for one in kept if one.kind == kind)
    yield from (one for one in kept if one.kind in ("boxes", "ticks"))
