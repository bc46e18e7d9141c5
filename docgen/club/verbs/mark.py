"""What every mark of a step is: what it is called where a change is told, and what it says in a reading."""

from collections.abc import Callable
from typing import Any, ClassVar, NamedTuple

from docgen.club.frozen import Frozen
from docgen.club.words import Words


class Reading(NamedTuple):
    """A line below a step of the reading. kind: good, not, way, hand, note, hold, stop; fact is a figure with notes."""

    kind: str
    label: str
    text: str
    notes: tuple[str, ...] = ()


class AnyMark(Frozen):
    """A mark of any kind: what it is called where a change of it is told, and whether it guards somebody."""

    noun: ClassVar[str]
    guards: ClassVar[bool] = False

    def reading(self, w: Words, figure: Callable[[Any], str]) -> Reading | None:
        """What it says below its step, by the words of the sheets; ``figure`` sets a figure in their language."""
        return None
