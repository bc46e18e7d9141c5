"""One sheet's answers on their way into an event: each box read once, every fault kept with its field."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, TypeVar

from docgen.club.words import Words
from docgen.job.job import Job, JobStep
from docgen.job.marks import OrientationMark
from docgen.returns.diagnostic import Refused, Said, Weight
from docgen.returns.layout import row_names
from docgen.returns.numbers import left_out, read_figure
from docgen.returns.writing import NONE, lines, one_line, read_date, read_hours, ticked
from docgen.sheets.entries import M, keyed, marked
from docgen.trade.quantity import Quantity

Value = TypeVar("Value")
Answers = Mapping[str, str]
"""What stands in the fields of a sheet, by their names; a ticked box holds "on"."""

FINDINGS = "findings"
"""The field that takes what was not as it should be; a fault that only needs a word there points to it."""

TOGETHER: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "released": ("Release", {"by": "released-by", "on": "released-on", "signature": "released-signature"}),
    "seconded": ("Second person", {"by": "second-by", "on": "second-on", "signature": "second-signature"}),
    "first_run": (
        "After the first run", {"on": "after-run-date", "time": "after-run-time", "by": "after-run-by"}
    ),
    "next_due": ("Next due", {"what": "next-due-what", "hours": "next-due-hours", "on": "next-due-date"}),
}  # fmt: skip
"""Boxes outside the tables that the event keeps as one: what they are called, and of each part the box."""


@dataclass
class FormReading:
    """What was read so far: the event's data, the rows left empty, and what must be said.

    ``remarks`` are the lines of the findings, and what was written of a point that was not good; ``also`` are lines
    that need nothing more and are kept as remarks.
    ``understood`` holds what was not written as it was read, such as ``"0,45" understood as 0.45 mm``.
    ``elsewhere`` are the labels of the rows that only other jobs of the visit have.
    """

    job: Job
    answers: Answers
    event: dict[str, Any] = field(default_factory=dict)
    said: list[Said] = field(default_factory=list)
    understood: list[str] = field(default_factory=list)
    blank: list[str] = field(default_factory=list)
    also: list[str] = field(default_factory=list)
    elsewhere: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        self.names = row_names(self.job)
        self.words = Words.speaking(self.job.instructions.tongue)
        none = NONE | {self.words("none").casefold()}
        self.remarks = tuple(line for line in lines(self.answers.get(FINDINGS, "")) if line.casefold() not in none)

    def name(self, key: str) -> str:
        """What a row is called on the paper."""
        return self.names.get(key, key)

    def say(self, weight: Weight, name: str, message: str, hint: str = "", at: str = "") -> None:
        """Keep something to be said."""
        self.said.append(Said(weight, name, message, hint, at))

    def refuse(self, name: str, message: str, hint: str, at: str) -> None:
        """Keep why the sheet cannot be filed as it is."""
        self.say("refused", name, message, hint, at)

    def note(self, name: str, message: str, hint: str = "", at: str = "") -> None:
        """Keep what is only mentioned."""
        self.say("note", name, message, hint, at)

    def unexplained(self, name: str, message: str, hint: str, at: str) -> None:
        """Refuse what is not as it should be, unless something is written under findings: then it is a note."""
        self.say("note" if self.remarks else "refused", name, message, "" if self.remarks else hint, at)

    def text(self, at: str) -> str:
        """A field's text on one line; a dash for nothing is nothing."""
        text = one_line(self.answers.get(at, ""))
        return "" if left_out(text) else text

    def tick(self, at: str) -> bool:
        """Whether a box is ticked."""
        return ticked(self.answers.get(at, ""))

    def figure(self, at: str, unit: str, name: str) -> Quantity | None:
        """A figure in a box whose unit is `unit`; None where it is empty or cannot be read (which is then said)."""
        return self._read(at, name, lambda text: read_figure(text, unit))

    def hours(self, at: str, name: str) -> Quantity | None:
        """Engine hours in a field."""
        return self._read(at, name, read_hours)

    def day(self, at: str, name: str) -> date | None:
        """A date in a field."""
        return self._read(at, name, read_date)

    def _read(self, at: str, name: str, read: Callable[[str], tuple[Value, str]]) -> Value | None:
        text = self.answers.get(at, "")
        if left_out(text):
            return None
        try:
            found, said = read(text)
        except Refused as refused:
            self.refuse(refused.said.name, f"{name}: {refused.said.message}", refused.said.hint, at)
            return None
        if said:
            self.understood.append(f"{name}: {said}")
        return found

    def marks(self, kind: type[M]) -> Iterator[tuple[JobStep, M]]:
        """The marks of a kind, each with its step and under the key of its row."""
        return marked(self.job.instructions, kind)

    def point(self, key: str) -> str:
        """What a look or a way round is called: its step's text, or its part."""
        for step, mark, found in keyed(self.job.instructions.steps):
            if found == key:
                return mark.name if isinstance(mark, OrientationMark) else step.text
        return key

    def empty(self, key: str) -> bool:
        """Keep a row, or a part of one (``row_wrench``), as left blank; always True."""
        self.blank.append(key.replace("_", "-"))
        return True

    def together(self, group: str) -> bool:
        """Read the boxes of one of :data:`TOGETHER` into the event; whether anything stands in them."""
        name, boxes = TOGETHER[group]
        kept = {}
        for part, at in boxes.items():
            day = self.day(at, f"{name}, date") if part == "on" else None
            hours = self.hours(at, f"{name}, hours") if part == "hours" else None
            kept[part] = str(day or hours or "") if part in ("on", "hours") else self.text(at)
        if found := {part: text for part, text in kept.items() if text}:
            self.event[group] = found
        return bool(found)

    def put(self, group: str, key: str, value: Any) -> None:
        """Add an entry to one of the event's mappings."""
        self.event.setdefault(group, {})[key] = value
