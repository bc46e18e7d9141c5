"""Places on a mat: in reading order, row under row; in a row, low places stand on one another beside a high one.

Lengths are mm. Every place is wide enough for what it asks for; rows are as low together as they can be.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from docgen.sheets.matpiece import Lying

MOST = 2.0
"""How much higher than needed rows may be made to fill a page."""
_TINY = 1e-6


class MatPlace(NamedTuple):
    """A piece in its place on the area of its page."""

    lying: Lying
    left: float
    top: float
    width: float
    height: float


class MatRow(NamedTuple):
    """Columns of pieces that stand on one another, with their left ends and widths; the height that the row needs."""

    columns: tuple[tuple[tuple[Lying, ...], float, float], ...]
    height: float


def rowed(pieces: Sequence[Lying], width: float, height: float) -> tuple[MatRow, ...] | None:
    """The rows that are lowest together on an area of some size; None where it does not hold them.

    One piece alone always has its row: that it is too large for its paper is found when it is printed.
    """
    widths = [one.width(width) for one in pieces]
    if len(pieces) == 1:
        return (MatRow((((pieces[0],), 0.0, width),), pieces[0].height(width)),)
    if any(one.least > width + _TINY for one in pieces):
        return None
    if sum(wide * one.height(wide) for wide, one in zip(widths, pieces, strict=True)) > width * height:
        return None  # rows leave some of the area empty
    best: list[tuple[float, tuple[MatRow, ...]]] = [(0.0, ())]
    for end in range(1, len(pieces) + 1):
        found: list[tuple[float, tuple[MatRow, ...]]] = []
        for start in range(end - 1, -1, -1):
            row = _row(pieces[start:end], widths[start:end], width)
            if row is not None:
                found.append((best[start][0] + row.height, (*best[start][1], row)))
            elif sum(one.least for one in pieces[start:end]) > 4 * width:
                break
        best.append(min(found, key=lambda one: one[0]))
    return best[-1][1] if best[-1][0] <= height else None


def _row(pieces: Sequence[Lying], widths: Sequence[float], width: float) -> MatRow | None:
    """The row of some pieces in a line, spread over the width; None where they do not fit side by side.

    Consecutive ones are stacked where they are together no higher than the row.
    """
    most = max(one.height(wide) for one, wide in zip(pieces, widths, strict=True))
    columns: list[tuple[tuple[Lying, ...], float]] = []
    for one, own in zip(pieces, widths, strict=True):
        if columns:
            stack, wide = (*columns[-1][0], one), max(columns[-1][1], own)
            if sum(each.height(wide) for each in stack) <= most and wide < 1.6 * columns[-1][1]:
                columns[-1] = (stack, wide)
                continue
        columns.append(((one,), own))
    wanted = sum(wide for _, wide in columns)
    if wanted > width + _TINY:
        return None
    laid, left = [], 0.0
    for column, wide in columns:
        share = wide * width / wanted
        laid.append((column, left, share))
        left += share
    return MatRow(tuple(laid), max(sum(one.height(share) for one in column) for column, _, share in laid))


def stretched(rows: Sequence[MatRow], height: float) -> Iterator[MatPlace]:
    """The places of rows one under the other, stretched where that fills the height."""
    high = sum(row.height for row in rows)
    factor = height / high if rows and height / high <= MOST else 1.0
    top = 0.0
    for row in rows:
        for column, left, width in row.columns:
            wanted = [one.height(width) for one in column]
            down = top
            for one, own in zip(column, wanted, strict=True):
                share = own * row.height * factor / sum(wanted)
                yield MatPlace(one, left, down, width, share)
                down += share
        top += row.height * factor
