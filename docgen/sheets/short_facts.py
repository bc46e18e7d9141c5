"""What a step of the short card says besides its text: figures to set or to measure, faces, and what is good."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from docgen.job import marks as m
from docgen.job.job import JobStep
from docgen.sheets.figures import capital, counted, figure
from docgen.sheets.measure import width
from docgen.sheets.parts import deviates
from docgen.sheets.words import Words


@dataclass(frozen=True)
class Fact:
    """One small cell. ``blank`` leaves a dotted line for a figure that nobody gave; ``own``: this engine's alone.

    kind : what the figure is: to accept on a gauge, a limit, a starting value
    """

    label: str
    value: str
    notes: tuple[str, ...] = ()
    tag: str = ""
    blank: bool = False
    own: bool = False
    kind: str = ""

    def large(self, room: float) -> bool:
        """Whether it is a figure, and stands on one line of `room` ems when it is set large."""
        return any(c.isdigit() for c in self.value) and width(self.value, bold=True) <= room


@dataclass(frozen=True)
class Said:
    """A line under the step's text: what is good, which way round, who checks."""

    label: str
    text: str
    boxed: bool = False


def facts(step: JobStep, deviated: frozenset[str], words: Words) -> tuple[Fact, ...]:
    """The figures of a step, one cell each. A single one needs no name: the step's text has it."""
    found = tuple(fact for mark in step.marks for fact in _facts(mark, deviates(mark, deviated), words))
    return tuple(replace(fact, label="") for fact in found) if len(found) == 1 else found


def said(step: JobStep, started: frozenset[str], words: Words) -> tuple[Said, ...]:
    """The lines under a step's text. That all are started by hand is said where a step starts them, if one does."""
    return tuple(line for mark in step.marks for line in _said(mark, started, words))


def held(step: JobStep) -> tuple[str, ...]:
    """Why work stops here."""
    return tuple(mark.why for mark in step.marks if isinstance(mark, m.HoldMark))


def _fact(label: str, value: m.Value, words: Words, own: bool, *notes: str, kind: str = "") -> Fact:
    tag = {"computed": words.estimate, "club": words.club_figure}.get(value.origin, "")
    if value.blank:
        return Fact(label, "", (figure(value.note, words) or words.see_manual, *notes), blank=True, kind=kind)
    own = own or value.origin == "deviation"
    return Fact(label, capital(figure(value.text, words)), notes, tag, own=own, kind=kind)


def _facts(mark: m.Mark, own: bool, words: Words) -> Iterator[Fact]:
    match mark:
        case m.TorqueMark() if mark.thread or mark.by_feel or mark.value.blank:
            notes = [figure(", ".join(mark.stages), words)] if mark.stages else []
            notes += [mark.locker] if mark.locker else []
            notes += [words.hand_only] if mark.hand_only else []
            yield _fact(counted(mark.name, mark.count), mark.value, words, own, *notes)
        case m.ReadingMark():
            if mark.accept:
                yield Fact(capital(mark.name), figure(mark.accept, words), own=own, kind=words.accept)
            else:
                yield _fact(capital(mark.name), mark.allow, words, own, kind=words.limit)
        case m.SettingMark() if mark.when == "left":
            notes = [f"{words.ceiling} {figure(mark.ceiling, words)}"] if mark.ceiling else []
            yield _fact(capital(mark.name), mark.start, words, own, *notes, kind=words.start_value)
        case m.WaitMark():
            yield Fact(words.wait, figure(mark.time, words))
        case m.ValueMark():
            yield _fact(capital(mark.name), mark.value, words, own)


def _said(mark: m.Mark, started: frozenset[str], words: Words) -> Iterator[Said]:
    match mark:
        case m.OrientationMark():
            text = words.face_towards.format(face=mark.face, towards=mark.towards)
            yield Said(capital(mark.name), text, boxed=True)
        case m.StartMark():
            if mark.count > 1:
                yield Said(words.start_first.format(count=mark.count), words.start_first_note)
        case m.TorqueMark() if mark.start_all_first and mark.count > 1 and mark.name not in started:
            yield Said(words.start_first.format(count=mark.count), words.start_first_note)
        case m.LookMark():
            yield Said(words.good, mark.accept)
        case m.SealMark():
            seal = f"{words.seal_removed}: {mark.number}" if mark.when == "removed" else words.seal_fitted
            yield Said(words.seal_of.format(name=mark.name), seal)
        case m.RenewMark() if not mark.if_needed:
            yield Said(words.renew, mark.name)
