"""What a sign-off sheet's tables are made of: told cells, fields to fill, and rows of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from docgen.sheets.measure import longest_word

HEAD, PADDING = 2.83, 2.9
"""Size of a column's head (8 pt) and its cell's padding on both sides together, mm."""
FieldKind = Literal["text", "date", "checkbox", "area"]


@dataclass(frozen=True)
class Field:
    """A place to fill with the pen, or on a tablet.

    name  : key of the mark, then "_" and the part: ``tighten-clutch-nut_wrench``; keys hold no "_"
    title : says to a screen reader, and to whoever fills it, what goes in
    unit  : printed behind it
    """

    name: str
    title: str
    kind: FieldKind = "text"
    unit: str = ""
    label: str = ""


@dataclass(frozen=True)
class Told:
    """What the sheet tells: a text, smaller notes below it, a tag for where the value is from.

    ``filled`` says that it is this engine's own, and differs on the next one's sheet.
    """

    text: str = ""
    notes: tuple[str, ...] = ()
    bold: bool = False
    tag: str = ""
    own: bool = False
    filled: bool = False


Entry = Field | Told | tuple[Field, ...] | tuple[Told, ...]


@dataclass(frozen=True)
class Column:
    """A table's column: its head, and its width as a share of the whole, about a millimetre each.

    A language with longer words gets the room that its longest one needs (:func:`widths`).
    """

    head: str
    share: float
    middle: bool = False


@dataclass(frozen=True)
class Table:
    """One table of the sheet. The first entry of a row names it; a row of one entry belongs to the one above it."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Entry, ...], ...]
    note: str = ""

    def __post_init__(self) -> None:
        wrong = [row for row in self.rows if len(row) not in (1, len(self.columns))]
        if wrong:
            raise ValueError(f"table {self.key}: {len(wrong)} rows have not {len(self.columns)} entries")

    @property
    def widths(self) -> tuple[float, ...]:
        """The columns' widths in per cent."""
        return widths((column.head, column.share) for column in self.columns)


Heads = Iterable[tuple[str, float]]


def table_of(key: str, title: str, heads: Heads, rows: Iterable[tuple[Entry, ...]], note: str = "") -> Table:
    """A table with these heads and their shares of the width; a column of ticks has its head over their middle."""
    made = tuple(rows)
    ticked = {n for row in made for n, one in enumerate(row) if isinstance(one, Field) and one.kind == "checkbox"}
    return Table(key, title, tuple(Column(*head, n in ticked) for n, head in enumerate(heads)), made, note)


def widths(heads: Heads) -> tuple[float, ...]:
    """The widths of columns in per cent; what a head's longest word needs beyond its share, the other columns give."""
    columns = [(share, max(share, longest_word(head) * HEAD + PADDING)) for head, share in heads]
    total = sum(share for share, _ in columns)
    spread = sum(share for share, wide in columns if wide == share)
    needed = sum(wide for share, wide in columns if wide > share)
    left = (total - needed) / spread if spread else total / needed
    return tuple(round(100 * (wide if wide > share else share * left) / total, 3) for share, wide in columns)
