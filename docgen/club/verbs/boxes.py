"""The boxes of a mark's row on the signed sheet: what each is called, what it means, how its answer is read and kept.

A mark names its boxes, ``wrench_box: ClassVar = Box("wrench")``, and ``mark.wrench_box`` is the name of the form field:
the mark's key, "_" and the part (keys hold no "_"); the key alone for a row with one box. Whoever prints a box or reads
it asks the mark.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple, Protocol

ON = "on"
"""What stands in a tick box that is ticked."""
LOOKED_ALL, LOOKED_EXCEPT = "looked-all", "looked-except"
"""The box that says of all that was looked at that it is good, and the one for what is not."""


class Answers(Protocol):
    """What was written into the boxes of a sheet."""

    def text(self, at: str, /) -> str: ...
    def tick(self, at: str, /) -> bool: ...


class MarkRow(NamedTuple):
    """The row of a mark that has a table of its own kind on the signed sheet, and is kept as it is written there.

    table : the table, and the group of the event that keeps its rows      share : width of what the row tells
    title, head, note : the words over the table, over what the row tells, and behind the title
    """

    table: str
    title: str
    head: str
    share: float
    note: str = ""


class Box:
    """A box to write into.

    kept : what the event calls the answer, in the entry of its row
    head, share : of its column, where its mark has a :class:`MarkRow`: the word over it, and its width
    """

    ticked = False

    def __init__(self, part: str = "", kept: str = "", head: str = "", share: float = 0.0) -> None:
        self.part, self.kept, self.head, self.share = part, kept, head, share

    def __get__(self, mark: Any, owner: Any = None) -> str:
        return f"{mark.key}_{self.part}" if self.part else str(mark.key)

    def read(self, answers: Answers, at: str) -> str:
        """The answer, as the event keeps it; empty for none."""
        return answers.text(at)

    def filled(self, kept: Any) -> str:
        """What stood in the box."""
        return str(kept or "")


class Tick(Box):
    """A box to tick."""

    ticked = True

    def read(self, answers: Answers, at: str) -> str:
        return "true" if answers.tick(at) else ""

    def filled(self, kept: Any) -> str:
        return ON if kept else ""


def boxes(kind: Any) -> dict[str, Box]:
    """The boxes of a kind of mark, in their order, by what the mark calls them."""
    return {name: box for name, box in vars(kind).items() if isinstance(box, Box)}


def _kept(mark: Any) -> Iterator[tuple[str, Box]]:
    return ((getattr(mark, name), box) for name, box in boxes(type(mark)).items() if box.kept)


def entry(mark: Any, answers: Answers) -> dict[str, str]:
    """What was written in a mark's row, as the event keeps it, without what is empty."""
    return {box.kept: text for at, box in _kept(mark) if (text := box.read(answers, at))}


def filled(mark: Any, entry: Any) -> dict[str, str]:
    """The boxes of a mark's row as they were filled, by the entry that an event keeps of it."""
    return {at: box.filled(getattr(entry, box.kept)) for at, box in _kept(mark)}
