"""Cells: the small boxes below a step's text, and how they share the width.

A tinted cell tells, a white one is written into. A figure that differs from engine to engine always stands in a cell.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

_LEAST = 10.0

Kind = Literal["given", "write", "blank", "hand", "tick"]


@dataclass(frozen=True)
class Cell:
    """One cell: a label, what it tells, and what it leaves to write.

    kind    : given (tinted), write (white, for the marker), blank (given by nobody: a line to fill from the
              manual), hand (hands only), tick (boxes)
    large   : the value is a figure to be set on a tool
    tag     : where the value is from, when it is not the maker's
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
        """The width that the cell would like, in average characters of the small size."""
        factor = 1.95 if self.large else 1.3
        if self.kind == "write":
            return max(17.0, len(self.label) * 1.05 + 3)
        if self.boxes:
            return max(len(self.boxes) * 7.0, len(self.label) + 3.0)
        longest = max((len(note) for note in self.notes), default=0)
        words = max((len(word) for word in (self.value or self.label).split()), default=0)
        value = max(words * factor, min(len(self.value) * factor, 34))
        label = (1.3 if self.head else 1) * len(self.label) + (len(self.tag) + 4 if self.tag else 0)
        return max(value, label, min(longest, 26)) + 3 + (6 if self.symbol else 0)


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

    columns : what a row holds, in average characters of the small size
    """
    wishes = [(cell, max(cell.wish, _LEAST)) for cell in cells]
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
