"""The steps of a reading: what to do and why, what it is set to, what is good, what to do if not, the drawing."""

from collections.abc import Iterator
from dataclasses import dataclass

from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.job.job import JobStep
from docgen.job.marks import Mark
from docgen.job.wording import in_text
from docgen.sheets.drawings.chosen import drawings_for, size
from docgen.sheets.figures import (
    KINDS,
    LUBRICATIONS,
    Fact,
    capital,
    counted,
    drive,
    fact_of,
    figure,
    standing,
    thread,
    undecided,
)  # fmt: skip


@dataclass(frozen=True)
class Said:
    """A line under a step: ``kind`` is good, not, way, hand, note, hold or stop; ``label`` stands before it in bold."""

    kind: str
    label: str
    text: str


Part = Fact | Said | str
Drawn = tuple[str, str, tuple[float, float]]
"""A drawing, what stands below it, and its width and height in mm."""


def parts_of(step: JobStep, deviated: frozenset[str], words: Words) -> tuple[list[str], list[Fact], list[Said]]:
    """What to have in the hands at a step, its figures and its lines: all that its marks say."""
    parts = [part for mark in step.marks for part in mark_parts(mark, m.deviates(mark, deviated), words)]
    hands = (*(part for part in parts if isinstance(part, str)), *step.tools)
    return (
        list(dict.fromkeys(capital(figure(part, words)) for part in hands)),
        [part for part in parts if isinstance(part, Fact)],
        [part for part in parts if isinstance(part, Said)],
    )


def drawn_of(step: JobStep, words: Words, least: float, room: float) -> Iterator[Drawn]:
    """The drawings of a step, as large as a reader needs them.

    least : size of the smallest words, mm; room : width of the step's column, mm
    """
    for mark in step.marks:
        for one in drawings_for(mark, words):
            svg = one.legible(least, room) or one.svg
            yield svg, one.caption, size(svg)


def value_of(label: str, value: Figure, words: Words, *notes: str, own: bool = False) -> Fact:
    """A value marked with where it came from when that is not the maker; how it was computed stands at the end."""
    note = words("how it was made: at the end") if value.origin == "computed" else standing(value, words)
    return fact_of(label, value, words, own, notes if value.blank or note in ("", "maker") else (*notes, note))


def mark_parts(mark: Mark, own: bool, words: Words) -> Iterator[Part]:
    """What one mark says; text alone is what to have in the hands."""
    match mark:
        case m.ToolMark():
            yield from filter(None, (drive(mark.drive, words) if mark.drive else "", mark.holding_tool))
            if mark.note:
                yield Said("note", "", f"{capital(mark.name)}: {figure(mark.note, words)}.")
        case m.TorqueMark():
            yield from _torque(mark, own, words)
        case m.StartMark():
            many, first = mark.count > 1, f", {words('before you tighten any')}" if mark.count > 1 else ""
            text = words("Start all {count} by hand" if many else "Start by hand", count=mark.count)
            yield Said("hand", text, f"{mark.name}{first}.")
        case m.OrientationMark():
            way = words("{face} towards {towards}", face=mark.face, towards=mark.towards)
            yield Said("way", capital(mark.name), way)
        case m.DrawingMark():
            yield Said("note", "", mark.title)
        case m.RenewMark():
            if not mark.if_needed:
                yield Said("note", words("Fit new"), " ".join(filter(None, (mark.name, mark.number))) + ".")
        case m.ReadingMark():
            yield from _reading(mark, own, words)
        case m.LookMark():
            yield Said("good", words("Good"), mark.accept)
            if mark.fail:
                yield Said("not", words("If not"), mark.fail)
        case m.SettingMark():
            yield from _setting(mark, own, words)
        case m.SealMark():
            of = words("Seal on the {name}", name=mark.name)
            if mark.when == "removed":
                asked = words("This job breaks a seal. Do not start without permission.")
                yield Said("stop", words("STOP"), f"{of}: {words('Break the seal')} {mark.number}. {asked}")
            else:
                yield Said("note", words("Fit a seal"), of + ".")
        case m.ApplyMark():
            amount = f", {figure(mark.amount, words)}" if mark.amount else ""
            yield mark.material + amount
        case m.ValueMark():
            yield value_of(capital(mark.name), mark.value, words, own=own)
        case _ if own_words := mark.reading(words, lambda one: figure(one, words)):
            kind, label, text, notes = own_words
            yield Fact(label, text, notes) if kind == "fact" else Said(kind, label, text)


def _torque(mark: m.TorqueMark, own: bool, words: Words) -> Iterator[Part]:
    label = counted(mark.name, mark.count)
    yield from filter(None, (drive(mark.drive, words) if mark.drive else "", mark.wrench, mark.holding_tool))
    if mark.start_all_first and mark.count > 1:
        yield Said("hand", words("Start all {count} by hand", count=mark.count), f"{words('before you tighten any')}.")
    if mark.catch:
        yield Said("good", label, words("fastened and seated"))
        return
    notes = [f"({figure(text, words)})" for text in mark.also]
    if mark.set_to:
        notes.append(f"{in_text(words('Set the wrench to'), words)} {figure(mark.set_to, words)}")
    notes += [words("Hands only").lower()] if mark.hand_only else []
    if mark.locker:
        notes.append(mark.locker + (f" ({words('cures')} {figure(mark.cure, words)})" if mark.cure else ""))
    elif mark.thread and not mark.by_feel:
        notes.append(f"{thread(mark.thread, words)} {words(LUBRICATIONS.get(mark.lubrication, mark.lubrication))}")
    if mark.stages:
        notes.append(f"{words('In stages').lower()} " + ", ".join(figure(text, words) for text in mark.stages))
    yield value_of(label, mark.value, words, *notes, own=own)


def limit_facts(mark: m.ReadingMark, own: bool, words: Words) -> Iterator[Fact]:
    """What a reading may be: the limit with the range of new parts, and what to accept on the gauge."""
    fresh = figure(mark.new, words) if mark.new and not mark.new.blank else ""
    new = (f"{in_text(words('New'), words)} {fresh}",) if fresh else ()
    yield value_of(words("Limit"), mark.allow, words, *new, own=own)
    if mark.accept:
        yield Fact(words("Accept"), figure(mark.accept, words), undecided(mark, words))


def _reading(mark: m.ReadingMark, own: bool, words: Words) -> Iterator[Part]:
    if mark.gauge:
        yield figure(mark.gauge, words)
    notes = [words(KINDS.get(mark.kind, mark.kind))] if mark.kind else []
    notes += [f"{words('from')} {mark.derived}"] if mark.derived else []
    notes += [mark.where] if mark.where else []
    if notes:
        yield Said("note", capital(mark.name), ", ".join(notes) + ".")
    yield from limit_facts(mark, own, words)
    if mark.fail:
        yield Said("not", words("If not"), mark.fail)


def _setting(mark: m.SettingMark, own: bool, words: Words) -> Iterator[Part]:
    notes = [mark.datum] if mark.datum else []
    notes += [f"{words('Never above').lower()} {figure(mark.ceiling, words)}"] if mark.ceiling else []
    if mark.when == "found":
        also = f" ({', '.join(mark.note_also)})" if mark.note_also else ""
        yield Said("note", words("As found"), words("write down {what}.", what=f"{mark.name}{also}"))
    else:
        label = f"{capital(mark.name)}, {in_text(words('Starting value'), words)}"
        yield value_of(label, mark.start, words, *notes, own=own)
