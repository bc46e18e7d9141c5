"""``hold``, ``wait``, ``repeat`` and ``seals``: where work stops, waits, begins again, or is sealed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from pydantic import Field

from docgen.club.frozen import QuantityText
from docgen.club.schema.base import Count, Flag, Name, Names, Strict, Time, spread
from docgen.club.schema.prose import Line, Prose
from docgen.club.verbs.boxes import Box, MarkRow, Tick
from docgen.club.verbs.mark import AnyMark, Reading
from docgen.club.verbs.verb import Verb
from docgen.club.words import Words, message
from docgen.trade.quantity import Quantity, parse_quantity

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step

LONG = parse_quantity("60 min")
"""From which a wait is recorded: not the drying of a part. Common practice, no source."""


class Hold(Strict):
    """A point that is not passed without a second pair of eyes (or the preparer's own later re-check)."""

    why: Prose
    id: Name | None = None


class Wait(Strict):
    for_: Time = Field(alias="for")
    why: Prose | None = None
    cools: Flag = False
    cures: Flag = False


class Repeat(Strict):
    """What is repeated: until when, and how often at most."""

    until: Prose
    at_most: Count | None = None


class HoldMark(AnyMark):
    """Not passed without a second pair of eyes, or the preparer's own later re-check."""

    noun: ClassVar = "hold point"
    guards: ClassVar = True
    mark: Literal["hold"] = "hold"
    key: str
    why: Line

    row: ClassVar = MarkRow(
        "holds", message("Hold points"), message("Why it holds"), 70,
        message("A second person, or who works alone looks again later and gives the time."),
    )  # fmt: skip
    second_box: ClassVar = Box("second", "second", message("Second person"), 44)
    own_box: ClassVar = Tick("own", "own", message("Own re-check"), 18)
    time_box: ClassVar = Box("time", "at", message("Date and time"), 40)

    @property
    def told(self) -> tuple[str, str]:
        """What its row tells: a text or a figure, and a note."""
        return self.why, ""

    def reading(self, w: Words, figure: Callable[[Any], str]) -> Reading:
        return Reading("hold", w("HOLD"), f"{w('Do not go on before this is checked.')} {self.why}")


class WaitMark(AnyMark):
    """Time that must pass, with room for start and finish."""

    noun: ClassVar = "waiting time"
    guards: ClassVar = True
    mark: Literal["wait"] = "wait"
    key: str
    time: QuantityText
    why: Line = ""

    row: ClassVar = MarkRow("waits", message("Waiting times"), message("Wait"), 82)
    start_box: ClassVar = Box("start", "start", message("Start"), 45)
    finish_box: ClassVar = Box("finish", "finish", message("Finished"), 45)

    @property
    def told(self) -> tuple[Quantity, str]:
        """What its row tells: a text or a figure, and a note."""
        return self.time, self.why

    @property
    def signed(self) -> bool:
        """Whether it has a row: where it is long."""
        return self.time >= LONG

    def reading(self, w: Words, figure: Callable[[Any], str]) -> Reading:
        return Reading("note", w("Wait"), f"{figure(self.time)}. {self.why}".strip())


class RepeatMark(AnyMark):
    """A step that is done again until something is true."""

    noun: ClassVar = "repeated until"
    mark: Literal["repeat"] = "repeat"
    key: str
    until: Line
    at_most: int | None = None

    def reading(self, w: Words, figure: Callable[[Any], str]) -> Reading:
        most = f" ({w('at most {count} times', count=self.at_most)})" if self.at_most else ""
        return Reading("note", w("Again until"), f"{figure(self.until)}{most}.")


class Waiting(Verb):
    """``wait``."""

    def recorded(self, step: Step) -> Iterator[object]:
        """How long, where that is long."""
        return (wait.for_ for wait in [step.wait] if wait and wait.for_ >= LONG)


Holds = Annotated[Annotated[Hold, spread("why")] | None, Verb(
    "hold", "Work stops here for a second pair of eyes.", last=True,
    mark=lambda step: HoldMark(key=step.key or "", why=step.hold.why), safety=True, signed="step",
)]  # fmt: skip
Waits = Annotated[Annotated[Wait, spread("for")] | None, Waiting(
    "wait", "Time that must pass before the next step.",
    mark=lambda step: WaitMark(key=step.key or "wait", time=step.wait.for_, why=step.wait.why or ""), signed="names",
)]  # fmt: skip
Repeats = Annotated[Annotated[Repeat, spread("until")] | None, Verb(
    "repeat", "The step is done again until something is true.",
    mark=lambda step: RepeatMark(key=step.key or "", until=step.repeat.until, at_most=step.repeat.at_most),
    signed="step",
)]  # fmt: skip
Seals = Annotated[Names, Verb(
    "seals", "Parts that get their new seal here, after the last measurement and the last refit; only an engine that "
    "was sealed gets the row.",
    defined="parts", works=True, signed="names",
)]  # fmt: skip
