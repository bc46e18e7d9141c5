"""A sheet typed in by exception: what is taken as the sheet asks for when all is well, and what is still asked."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from docgen.club.verbs.boxes import LOOKED_ALL, LOOKED_EXCEPT, ON
from docgen.job import marks as m
from docgen.job import wording
from docgen.job.job import Job, JobStep
from docgen.returns.layout import row_names
from docgen.returns.prompts import Answered, Prompt, prompts
from docgen.returns.writing import one_line
from docgen.sheets.entries import expected, looked_at, marked

ASKED = ("jobs", "open-findings", "settings", "torques", "readings", "seals", "holds", "findings")
"""The parts of the sheet of which something is asked in any case."""


@dataclass(frozen=True)
class Signed:
    """Who did the work and when, as it stands under everything else."""

    day: date
    hours: str
    by: str
    initials: str


@dataclass(frozen=True)
class Taken:
    """What is taken when all is well: the boxes that it fills, and in words, a line each."""

    answers: Mapping[str, str]
    lines: tuple[str, ...]


_TIME = re.compile(r"\b\d{1,2}[:.]\d{2}\b")


@dataclass(frozen=True)
class HoldPrompt(Prompt):
    """One question for a hold point: a name is the second person, a time is the preparer's own re-check."""

    hold: m.HoldMark = field(kw_only=True)

    @property
    def asks(self) -> str:
        """The question in words."""
        return "    Who looked at it second; or when you looked again yourself, as in 18:30"

    def take(self, typed: str) -> Answered:
        """The three boxes of a hold point."""
        text, hold = one_line(typed), self.hold
        own = bool(_TIME.search(text))
        second, ticked, time = ("", ON, text) if own else (text, "", "")
        return {hold.second_box: second, hold.own_box: ticked, hold.time_box: time}, ""

    def shown(self, answers: Mapping[str, str]) -> str:
        """The name or the time that was answered."""
        return answers.get(self.hold.second_box) or answers.get(self.hold.time_box, "")


def brief(job: Job) -> tuple[Prompt, ...]:
    """The questions that are asked although all is well, in the order of the paper."""
    return tuple(_brief(job))


def _brief(job: Job) -> Iterator[Prompt]:
    holds = {mark.second_box: mark for _, mark in marked(job.instructions, m.HoldMark)}
    values = {mark.value_box for _, mark in marked(job.instructions, m.TorqueMark)}
    for one in prompts(job):
        section = one.section.key
        if one.field in holds:
            yield HoldPrompt(one.section, one.row, one.field, one.label, one.kind, hold=holds[one.field])
        elif section in ASKED and section != "holds" and (section != "torques" or one.wrench or one.field in values):
            yield one


def taken(job: Job, signed: Signed, wrenches: Mapping[str, str]) -> Taken:
    """What a sheet says on which all went as it asks for, and what is shown of it before anybody says so.

    wrenches : the wrench that each fastener was last tightened with; it stands ready in its box, which is asked for
    """
    answers = {
        "work-completed": signed.day.isoformat(), "engine-hours": signed.hours, "done-by": signed.by,
        "released-by": signed.by, "released-on": signed.day.isoformat(),
    }  # fmt: skip
    hours = f" at {signed.hours} h" if signed.hours else ", hours not noted"
    lines = [f"done and released on {signed.day.isoformat()}{hours}, by {signed.by} ({signed.initials})"]
    names = row_names(job)
    fasteners = [(step, mark) for step, mark in marked(job.instructions, m.TorqueMark) if mark.key in names]
    answers |= {mark.initials_box: signed.initials for _, mark in fasteners}
    lines += _looked(job, answers)
    lines += _fastened(fasteners, answers, wrenches)
    lines += _renewed(job, answers)
    if waits := [mark for _, mark in marked(job.instructions, m.WaitMark) if mark.key in names]:
        lines.append(f"{len(waits)} waiting time{'' if len(waits) == 1 else 's'} kept; when is not noted")
    return Taken(answers, tuple(lines))


def _looked(job: Job, answers: dict[str, str]) -> Iterator[str]:
    told, points = job.instructions, sum(1 for _ in looked_at(job.instructions))
    if points:
        answers[LOOKED_ALL] = ON
        yield f"{points} points looked at, and ways round: good"
    answers |= {check.closing_box: ON for check in told.closing}
    if told.closing:
        yield f"before the release: {'; '.join(check.text.rstrip('.') for check in told.closing)}"


def _fastened(
    fasteners: Iterable[tuple[JobStep, m.TorqueMark]], answers: dict[str, str], wrenches: Mapping[str, str]
) -> Iterator[str]:
    for step, mark in fasteners:
        paint = ", paint mark made" if mark.painted else ""
        answers |= {mark.paint_box: ON} if mark.painted else {}
        answers |= {mark.wrench_box: wrenches[mark.item]} if mark.item in wrenches else {}
        value = "" if mark.value.blank else f" tightened to {wording.figure(mark.value)}"
        yield f"{step.called} {mark.name}{value or ' tightened'}{paint}"


def _renewed(job: Job, answers: dict[str, str]) -> Iterator[str]:
    parts = []
    for step, mark in expected(job.instructions):
        answers |= {mark.renewed_box: ON} | ({mark.number_box: mark.number} if mark.number else {})
        parts.append(f"{step.called} {mark.name}{f' {mark.number}' if mark.number else ''}")
    if parts:
        yield f"renewed: {'; '.join(parts)}"


def excepted(job: Job, text: str, answers: dict[str, str]) -> None:
    """Take what was not good, or not renewed, by the rows of the paper: ``17b worn; 39a not renewed``."""
    left: list[str] = []
    rows = {step.called: mark for step, mark in expected(job.instructions)}
    for part in filter(None, (one.strip() for one in re.split(r";", text))):
        label, _, rest = part.partition(" ")
        row = rows.get(label.lower())
        if row and rest.strip().casefold().startswith("not"):
            answers[row.renewed_box] = answers[row.number_box] = ""
        else:
            left.append(part)
    answers[LOOKED_EXCEPT] = "; ".join(left)


def initials_of(name: str) -> str:
    """The first letters of a name's words.

    >>> initials_of("Zoë Kőszegi"), initials_of("Jo")
    ('ZK', 'J')
    """
    return "".join(word[0] for word in name.split()).upper()[:4]
