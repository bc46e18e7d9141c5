"""Cells: the small boxes below a step's text, and how they share the width.

A tinted cell tells, a white one is written into. A figure that differs from engine to engine always stands in a cell.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from docgen.sheets.measure import lines_of, longest_word, width
from docgen.sheets.scale import Scale

PAD = 1.1
"""What a cell's padding and rules take, in ems of the small size."""
MIDDLE, VALUE = 1.2247, 1.875
"""Sizes of a plain and of a large value, in ems of the small size (see ``scale``)."""
LEAST = 5.0

Kind = Literal["given", "write", "blank", "hand", "tick"]


@dataclass(frozen=True)
class Cell:
    """One cell: a label, what it tells, and what it leaves to write.

    kind    : given (tinted), write (white, for the marker), blank (given by nobody: a line to fill from the
              manual), hand (hands only), tick (boxes)
    large   : the value is a figure to be set on a tool
    tag     : where the value is from, when it is not the maker's
    own     : the figure follows from a deviation of this engine
    boxes   : labels of tick boxes
    head    : the label names what the row is about, and is set bold
    symbol  : name of a symbol of ``drawings.symbols``
    """

    label: str
    value: str = ""
    notes: tuple[str, ...] = ()
    kind: Kind = "given"
    large: bool = False
    tag: str = ""
    own: bool = False
    head: bool = False
    unit: str = ""
    boxes: tuple[str, ...] = ()
    symbol: str = ""

    @property
    def wish(self) -> float:
        """The width that the cell would like, in ems of the small size: long texts wrap to two or three lines."""
        label = (MIDDLE if self.head else 1.0) * width(self.label, bold=self.head)
        label += sum(6.5 for told in (self.tag, self.own) if told)
        if self.kind == "write":
            return max(label, 8.5) + PAD
        if self.boxes:
            return max(label, len(self.boxes) * (4.3 if any(self.boxes) else 2.6)) + PAD
        size = VALUE if self.large else MIDDLE
        value = max(longest_word(self.value, bold=True), _wrapped(width(self.value, bold=True), 11)) * size
        note = max((max(longest_word(text), min(_wrapped(width(text), 12), 24)) for text in self.notes), default=0.0)
        least = max(longest_word(self.label), _wrapped(label, 14))
        return max(value, least, note) + PAD + (1.8 * size if self.symbol else 0.0)


def _wrapped(length: float, line: float) -> float:
    """The width of a text that is let wrap: whole up to a line, then two even lines, then three."""
    return length if length <= line else max(line * 0.8, length / (2 if length <= 2.2 * line else 3) * 1.12)


@dataclass(frozen=True)
class Cells:
    """The cells of one mark, before they are shared out over rows. ``alone`` keeps them out of another mark's row."""

    cells: tuple[Cell, ...]
    alone: bool = False


@dataclass(frozen=True)
class Row:
    """Cells side by side over the full width; ``widths`` in per cent."""

    cells: tuple[Cell, ...]
    widths: tuple[float, ...]
    shape: Literal["row"] = "row"

    @property
    def pairs(self) -> tuple[tuple[Cell, float], ...]:
        """Each cell with its width."""
        return tuple(zip(self.cells, self.widths, strict=True))


def pack(cells: Iterable[Cell], columns: float) -> tuple[Row, ...]:
    """Share cells out over as few rows as they need, in their order and evenly; a row's cells fill its width.

    columns : what a row holds, in ems of the small size
    """
    wishes = [(cell, max(cell.wish, LEAST)) for cell in cells]
    needed = _rows(wishes, columns)
    low, high = max((w for _, w in wishes), default=0.0), columns
    for _ in range(8):  # the narrowest width that needs no more rows: rows come out even
        middle = (low + high) / 2
        low, high = (low, middle) if len(_rows(wishes, middle)) <= len(needed) else (middle, high)
    return tuple(_row(row) for row in _rows(wishes, high))


def _rows(wishes: list[tuple[Cell, float]], columns: float) -> list[list[tuple[Cell, float]]]:
    rows: list[list[tuple[Cell, float]]] = []
    used = 0.0
    for cell, wish in wishes:
        if rows and used + wish <= columns:
            rows[-1].append((cell, wish))
            used += wish
        else:
            rows.append([(cell, wish)])
            used = wish
    return rows


def _row(cells: list[tuple[Cell, float]]) -> Row:
    total = sum(wish for _, wish in cells)
    return Row(tuple(cell for cell, _ in cells), tuple(round(100 * wish / total, 3) for _, wish in cells))


def height(row: Row, room: float, scale: Scale) -> float:
    """Height that a row takes on a width of ``room`` mm, with the gap above it, about; mm."""
    return max(_height(cell, room * share / 100 - 3.9, scale) for cell, share in row.pairs) + 3.6


def _height(cell: Cell, room: float, scale: Scale) -> float:
    def lines(text: str, size: float, bold: bool = False) -> float:
        return 1.2 * size * lines_of(text, room / size, bold=bold) if text else 0.0

    high = lines(cell.label, scale.middle if cell.head else scale.small, cell.head)
    high += lines(cell.value, scale.value if cell.large else scale.middle, True)
    high += sum(lines(text, scale.small) for text in cell.notes)
    return high + {"write": 11.0, "blank": 9.0}.get(cell.kind, 0.0) + (10.0 if cell.boxes else 0.0)
