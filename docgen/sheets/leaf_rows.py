"""The rows of the bench leaf: the mechanic's line, and what the program puts beside it and below it.

Beside the line, at the right, stands what is set, accepted or written; below it what comes from the model or the
record: which way round, which number, who checks. All else is in the line's own words, and proofing holds it to that.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import NamedTuple

from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.job import DeviationLine, JobRow, JobStage, JobStep
from docgen.job.wording import unit
from docgen.sheets.drawings.chosen import drawings_for
from docgen.sheets.figures import HARD, Fact, capital, fact_of, figure, size_of, thread, undecided
from docgen.sheets.measure import Scale, longest_word, width

MOST_BOXES = 3
"""Boxes to write into that stand side by side."""
CLOCK = "_____ : _____".replace(" ", HARD)
"""Where an hour and a minute are written."""


class LeafBox(NamedTuple):
    """A box to write into, over a share of the row's width: its label and its unit."""

    label: str
    unit: str = ""


@dataclass(frozen=True)
class Below:
    """A line below the row's: ``kind`` is way (round), new, hand, note, or boxes (to write into), ticks."""

    kind: str
    text: str = ""
    boxes: tuple[LeafBox, ...] = ()


STRIP = 20.0
"""Height of the strip that shows what goes onto one shaft or body, mm."""
RANKS = ("stack", "orientation", "setting", "reading", "look", "torque", "apply", "drawing")
"""The marks whose drawings are wanted, the most welcome first: the order of parts, which way round, how high."""


def beside(row: JobRow, deviated: frozenset[str], words: Words) -> tuple[Fact, ...]:
    """What is set, accepted or written in a row; where that is nothing, what its screws are turned with."""
    marks = [mark for step in row.steps for mark in step.marks]
    made = list(dict.fromkeys(one for mark in marks for one in _beside(mark, m.deviates(mark, deviated), words)))
    drives = dict.fromkeys(size_of(mark.size, words) for mark in marks if isinstance(mark, m.ToolMark) and mark.size)
    if drives and not made:
        made.append(Fact(notes=(", ".join(drives),)))
    if sum(bool(one.value) or one.blank or one.write is not None for one in made) < 2:
        return tuple(replace(one, label="") for one in made)  # a single figure needs no name: the row's line has it
    return tuple(made)


def wide(one: Fact, words: Words) -> float:
    """The width that a figure beside a row needs at least and would like, in ems of the small size."""
    value = 1.4 * min(width(one.value, bold=True), max(longest_word(one.value, bold=True), 7.0))
    notes = [min(width(text), max(longest_word(text), 12.0)) for text in (*one.notes, one.label, one.asks)]
    box = 0.0 if one.write is None else max(7.5, width(one.asks) + width(one.write) + 1.8)
    tags = [width(text) + 1.0 for text in (one.tag, words("this engine") if one.own else "") if text]
    return max(value, box, *tags, *notes, 5.4 if one.blank else 0.0)


def below(row: JobRow, words: Words) -> list[Below]:
    """The lines below a row's own: part numbers on one line, what is in hand on another; the same line once."""
    kept = list(dict.fromkeys(one for step in row.steps for one in _below(step, words)))
    found = [one for one in kept if one.kind == "way"]
    for kind, begin, joint in (("new", f"{words('new:')} ", ", "), ("with", "", " · ")):
        if same := joint.join(one.text for one in kept if one.kind == kind):
            found.append(Below(kind, begin + joint.join(dict.fromkeys(same.split(joint)))))
    return found + [one for one in kept if one.kind in ("boxes", "ticks")]


def instead(one: DeviationLine, steps: Iterable[JobStep], words: Words) -> str:
    """What holds instead, as the trade says it in short; in full where no row sets or measures it."""
    said, marks = [], (mark for step in steps for mark in step.marks if m.deviates(mark, frozenset({one.item})))
    for mark in marks:
        for fact in _beside(mark, True, words):
            size = thread(mark.thread, words) if isinstance(mark, m.TorqueMark) else ""
            value = f"{fact.value or '______'} ({fact.tag})" if fact.tag else fact.value or "______"
            said.append(", ".join(filter(None, (size, *fact.notes, value))))
    full = (one.what, *one.figures)
    return "; ".join(dict.fromkeys(said)) or " · ".join(figure(text, words) for text in full)


def stacked(stage: JobStage, words: Words, scale: Scale, room: float) -> Iterator[tuple[int, str, str]]:
    """What a stage builds up on one shaft or body, drawn low over ``room`` mm: from which row on, and its legend."""
    for row in stage.rows:
        for mark in (mark for step in row.steps for mark in step.marks if isinstance(mark, m.StackMark)):
            for one in drawings_for(mark, words, STRIP):
                if svg := one.legible(scale.small, room):
                    yield row.number, svg, one.caption


def drawn(row: JobRow, words: Words, scale: Scale, room: float) -> Iterator[tuple[str, str, int]]:
    """The drawings of a row that are legible in a column of ``room`` mm, each with what stands below it and its rank.

    A stack stands before its stage; a look's picture that another look in the row has already is left out.
    """
    marks = [mark for step in row.steps for mark in step.marks if not isinstance(mark, m.StackMark)]
    first = {mark.picture: mark for mark in reversed(marks) if isinstance(mark, m.LookMark) and mark.picture}
    for mark in marks:
        if isinstance(mark, m.LookMark) and first.get(mark.picture, mark) is not mark:
            continue
        for one in drawings_for(mark, words):
            if svg := one.legible(scale.small, room):
                yield svg, one.caption, 1 + RANKS.index(mark.mark)


def _beside(mark: m.Mark, own: bool, words: Words) -> Iterator[Fact]:
    match mark:
        case m.TorqueMark() if mark.value.blank or mark.value.band:
            size = size_of(mark.size, words)
            one = fact_of(capital(mark.name), mark.value, words, own, (size,) if size else ())
            yield replace(one, value=figure(mark.set_to, words)) if mark.set_to and not one.blank else one
        case m.ReadingMark():
            one = fact_of(capital(mark.name), mark.allow, words, own)
            if mark.accept:
                one = Fact(one.label, figure(mark.accept, words), undecided(mark, words), own=own)
            yield replace(one, write=unit(mark.unit, words) if len(mark.positions) < 2 else None)
        case m.SettingMark():
            notes = [figure(mark.datum, words)] if mark.datum else []
            notes += [f"{words('Never above')} {figure(mark.ceiling, words)}"] if mark.ceiling else []
            one, asks = Fact(capital(mark.name), notes=tuple(notes)), words("As found")
            if mark.when != "found":
                one, asks = fact_of(one.label, mark.start, words, own, notes), words("As left")
            yield replace(one, write=unit(mark.unit, words), asks=asks)
        case m.WaitMark():
            short = None if mark.signed else CLOCK
            yield Fact(value=figure(mark.time, words), write=short, asks=words("not before") if short else "")
        case m.ValueMark():
            yield fact_of(capital(mark.name), mark.value, words, own)


def _below(step: JobStep, words: Words) -> Iterator[Below]:
    for mark in step.marks:
        match mark:
            case m.OrientationMark():
                way = words("{face} towards {towards}", face=mark.face, towards=mark.towards)
                yield Below("way", f"{capital(mark.name)}: {way}")
            case m.TorqueMark() if mark.thread or mark.by_feel or mark.locker:
                stages = ", ".join(figure(one, words) for one in mark.stages)
                told = [words("Hands only")] if mark.hand_only else []
                told += [figure(mark.value, words)] if mark.by_feel else []
                told += [f"{words('In stages').lower()} {stages}"] if stages else []
                told += [mark.locker] if mark.locker else []
                if told:
                    yield Below("with", " · ".join(told))
            case m.RenewMark() if not mark.if_needed and mark.number:
                yield Below("new", f"{mark.name} {mark.number}")
            case m.ReadingMark() if len(mark.positions) > 1:
                boxes = [LeafBox(place, unit(mark.unit, words)) for place in mark.positions]
                share = ceil(len(boxes) / ceil(len(boxes) / MOST_BOXES))
                yield from (Below("boxes", boxes=tuple(boxes[n : n + share])) for n in range(0, len(boxes), share))
            case m.SettingMark() if mark.note_also:
                yield Below("boxes", boxes=tuple(LeafBox(text) for text in mark.note_also))
            case m.SealMark() if mark.when == "fitted":
                yield Below("boxes", boxes=(LeafBox(f"{words('New seal number')}, {mark.name}"),))
            case m.WaitMark() if mark.signed:
                yield Below("boxes", boxes=(LeafBox(words("not before, day"), HARD), LeafBox(words("time"), CLOCK)))
            case m.RepeatMark():
                count = min(mark.at_most or 4, 10)
                until = f"{words('Again until')}: {figure(mark.until, words)}"
                yield Below("ticks", until, tuple(LeafBox(str(n + 1)) for n in range(count)))
