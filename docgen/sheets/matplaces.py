"""Places on a mat: in reading order, row under row; in a row, low places stand on one another beside a high one.

Lengths are mm. Every place is wide enough for what it asks for; rows are as low together as they can be.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

LABEL = 14.0
"""Least height of a place, mm."""
NARROW, WIDE = 70.0, 1.4
"""To save height a place may be made this wide; a wider one, by this factor."""
MOST = 2.0
"""How much higher than needed rows may be made to fill a page."""
_TINY = 1e-6

Column = tuple[int, ...]
"""Places that stand on one another, by their number."""


@dataclass(frozen=True)
class Wish:
    """What one place asks for: its least width, and the height that it needs at a width."""

    least: float
    needs: Callable[[float], float]

    def height(self, width: float) -> float:
        """The height at a width."""
        return max(self.needs(width), LABEL)

    def width(self, most: float) -> float:
        """The width that wastes least paper: no narrower than it must be, and not twice as wide."""
        end = min(most, 1.9 * self.least, max(NARROW, WIDE * self.least))
        widths = [self.least + 2 * n for n in range(int(max(0.0, end - self.least) / 2) + 1)]
        return min(widths, key=lambda width: (width + 4) * (self.height(width) + 4))


@dataclass(frozen=True)
class Box:
    """A placed cell: which wish it is for, and where it stands on the area of its page."""

    at: int
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True)
class Row:
    """Columns with their left ends and widths, and the height that the row needs."""

    columns: tuple[tuple[Column, float, float], ...]
    height: float


def rowed(wishes: Sequence[Wish], width: float, height: float) -> tuple[Row, ...] | None:
    """The rows that are lowest together on an area of some size; None where it does not hold them.

    One place alone always has its row: that it is too large for its paper is found when it is printed.
    """
    widths = [wish.width(width) for wish in wishes]
    if len(wishes) == 1:
        return (Row((((0,), 0.0, width),), wishes[0].height(width)),)
    if any(wish.least > width + _TINY for wish in wishes):
        return None
    if sum(wide * wish.height(wide) for wide, wish in zip(widths, wishes, strict=True)) > width * height:
        return None  # rows leave some of the area empty
    best: list[tuple[float, tuple[Row, ...]]] = [(0.0, ())]
    for end in range(1, len(wishes) + 1):
        found: list[tuple[float, tuple[Row, ...]]] = []
        for start in range(end - 1, -1, -1):
            row = _row(range(start, end), wishes, widths, width)
            if row is not None:
                found.append((best[start][0] + row.height, (*best[start][1], row)))
            elif sum(wishes[at].least for at in range(start, end)) > 4 * width:
                break
        best.append(min(found, key=lambda one: one[0]))
    return best[-1][1] if best[-1][0] <= height else None


def _row(places: Sequence[int], wishes: Sequence[Wish], widths: Sequence[float], width: float) -> Row | None:
    """The row of some places in a line, spread over the width; None where they do not fit side by side."""
    columns = _columns(places, wishes, widths)
    wanted = sum(wide for _, wide in columns)
    if wanted > width + _TINY:
        return None
    laid, left = [], 0.0
    for column, wide in columns:
        share = wide * width / wanted
        laid.append((column, left, share))
        left += share
    return Row(tuple(laid), max(sum(wishes[at].height(share) for at in column) for column, _, share in laid))


def _columns(places: Sequence[int], wishes: Sequence[Wish], widths: Sequence[float]) -> list[tuple[Column, float]]:
    """Consecutive places stacked where they are together no higher than the row; with the column's width."""
    most = max(wishes[at].height(widths[at]) for at in places)
    columns: list[tuple[Column, float]] = []
    for at in places:
        if columns:
            stack = (*columns[-1][0], at)
            width = max(columns[-1][1], widths[at])
            if sum(wishes[one].height(width) for one in stack) <= most and width < 1.6 * columns[-1][1]:
                columns[-1] = (stack, width)
                continue
        columns.append(((at,), widths[at]))
    return columns


def stretched(rows: Sequence[Row], wishes: Sequence[Wish], height: float) -> Iterator[Box]:
    """The places of rows one under the other, stretched where that fills the height."""
    high = sum(row.height for row in rows)
    factor = height / high if rows and height / high <= MOST else 1.0
    top = 0.0
    for row in rows:
        for column, left, width in row.columns:
            wanted = [wishes[at].height(width) for at in column]
            down = top
            for at, own in zip(column, wanted, strict=True):
                share = own * row.height * factor / sum(wanted)
                yield Box(at, left, down, width, share)
                down += share
        top += row.height * factor


def spots(count: int, width: float, height: float, room: float, gap: float) -> tuple[int, int]:
    """Columns and rows in which ``count`` pieces of one size lie with a gap between them, on a width of ``room``."""
    columns = max(1, min(count, int((room + gap + _TINY) // (width + gap))))
    rows = ceil(count / columns)
    return ceil(count / rows), rows
