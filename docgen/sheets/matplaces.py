"""Places on a mat: in reading order, row under row; in a row, low places stand on one another beside a high one.

Lengths are mm. ``edges`` are the right ends of the strips that a row is made of: one for a sheet of paper, two for a
mat that is printed on two sheets and joined, where no words may stand across the seam.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

LABEL = 14.0
"""Least height of what a place takes for its words alone, mm."""
MOST = 2.0
"""How much higher than needed rows may be made to fill a page."""
_TINY = 1e-6

Column = tuple[int, ...]
"""Places that stand on one another, by their number."""


@dataclass(frozen=True)
class Wish:
    """What one place asks for.

    least  : its least width
    text   : height of its words at a width
    piece  : height of the room for its pieces at a width, clear space included; 0 for words alone
    """

    least: float
    text: Callable[[float], float]
    piece: Callable[[float], float]

    def height(self, width: float) -> float:
        """The height at a width."""
        return max(self.text(width) + self.piece(width), LABEL)

    def width(self, most: float) -> float:
        """The width that wastes least paper: no narrower than it must be, and not twice as wide."""
        widths = [self.least + 2 * n for n in range(int(max(0.0, min(most, 1.9 * self.least) - self.least) / 2) + 1)]
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
class _Row:
    """Columns with their left ends and widths, and the height that the row needs."""

    columns: tuple[tuple[Column, float, float], ...]
    height: float


def paged(wishes: Sequence[Wish], edges: Sequence[float], height: float, spare: float) -> list[list[Box]]:
    """All places, page by page; on the last page a strip ``spare`` high stays free at the foot.

    Every wish must fit: no wider than the widest strip (or the whole, if it begins a row), no higher than the page.
    """
    pages = _evened(_Maker(wishes, edges, height - spare).pages(height, spare), height, spare)
    return [_stretched(page, wishes, height - (spare if page is pages[-1] else 0.0)) for page in pages]


class _Maker:
    """Breaks places into rows on as few pages as can be."""

    def __init__(self, wishes: Sequence[Wish], edges: Sequence[float], most: float) -> None:
        self._wishes, self._edges, self._most = wishes, edges, most
        self._widths = [wish.width(min(edges[0], 70.0)) for wish in wishes]

    def pages(self, height: float, spare: float) -> list[list[_Row]]:
        """The rows, page by page, on as few pages as can be; ``spare`` must stay free on the last."""
        best: list[tuple[int, float, list[list[_Row]]]] = [(1, 0.0, [[]])]
        for end in range(1, len(self._wishes) + 1):
            last = spare if end == len(self._wishes) else 0.0
            found: list[tuple[int, float, list[list[_Row]]]] = []
            for start in range(end - 1, -1, -1):
                row = self._row(range(start, end))
                if row is not None:
                    count, used, pages = best[start]
                    if used + row.height + last <= height:
                        found.append((count, used + row.height, [*pages[:-1], [*pages[-1], row]]))
                    else:
                        found.append((count + 1, row.height, [*pages, [row]]))
                elif sum(self._wishes[at].least for at in range(start, end)) > 4 * self._edges[-1]:
                    break
            best.append(min(found, key=lambda one: one[:2]))
        return best[-1][2]

    def _row(self, places: Sequence[int]) -> _Row | None:
        """The row of some places in a line; None where they do not fit side by side."""
        high = max(self._wishes[at].height(self._widths[at]) for at in places)
        columns = self._columns(places, high)
        strips = self._strips(columns)
        if strips is None or high > self._most:
            return None
        laid = tuple(self._spread(strips))
        needed = max(sum(self._wishes[at].height(width) for at in column) for column, _, width in laid)
        return _Row(laid, needed)

    def _columns(self, places: Sequence[int], high: float) -> list[tuple[Column, float]]:
        """Consecutive places stacked where they are together no higher than the row; with the column's width."""
        columns: list[tuple[Column, float]] = []
        for at in places:
            if columns:
                stack = (*columns[-1][0], at)
                width = max(columns[-1][1], self._widths[at])
                if sum(self._wishes[one].height(width) for one in stack) <= high and width < 1.6 * columns[-1][1]:
                    columns[-1] = (stack, width)
                    continue
            columns.append(((at,), self._widths[at]))
        return columns

    def _strips(self, columns: Sequence[tuple[Column, float]]) -> list[list[tuple[Column, float]]] | None:
        """The columns strip by strip; None where they do not fit. The first may be wider than its strip."""
        strips: list[list[tuple[Column, float]]] = [[] for _ in self._edges]
        now, used = 0, 0.0
        for n, (column, width) in enumerate(columns):
            while now < len(self._edges) and used + width > self._edges[now] + _TINY:
                if n == 0 and width <= self._edges[-1] + _TINY:
                    break
                used = max(used, self._edges[now])
                now += 1
            if now == len(self._edges):
                return None
            strips[now].append((column, width))
            used += width
        return strips

    def _spread(self, strips: Sequence[Sequence[tuple[Column, float]]]) -> Iterator[tuple[Column, float, float]]:
        """Left end and width of each column, spread so that each strip is filled."""
        start = 0.0
        for n, strip in enumerate(strips):
            wanted = sum(width for _, width in strip)
            end = self._edges[n] if start + wanted <= self._edges[n] + _TINY else self._edges[-1]
            for column, width in strip:
                share = width * (end - start) / wanted
                yield column, start, share
                start, end, wanted = start + share, end, wanted - width
            start = max(start, self._edges[n])


def _high(rows: Sequence[_Row]) -> float:
    return sum(row.height for row in rows)


def _evened(pages: list[list[_Row]], height: float, spare: float) -> list[list[_Row]]:
    """The same rows on as many pages, shared out evenly where that fits."""
    left = [row for page in pages for row in page]
    out: list[list[_Row]] = []
    for remaining in range(len(pages), 0, -1):
        goal = (_high(left) + spare) / remaining
        page: list[_Row] = []
        while left and (remaining == 1 or not page or _high(page) + left[0].height / 2 <= goal):
            page.append(left.pop(0))
        out.append(page)
    fits = all(_high(page) <= height - (spare if page is out[-1] else 0.0) for page in out)
    return out if fits and all(out) else pages


def _stretched(rows: Sequence[_Row], wishes: Sequence[Wish], height: float) -> list[Box]:
    """Rows one under the other, stretched where that fills the page."""
    factor = height / _high(rows) if rows and height / _high(rows) <= MOST else 1.0
    boxes: list[Box] = []
    top = 0.0
    for row in rows:
        high = row.height * factor
        for column, left, width in row.columns:
            wanted = [wishes[at].height(width) for at in column]
            down = top
            for at, own in zip(column, wanted, strict=True):
                share = own * high / sum(wanted)
                boxes.append(Box(at, left, down, width, share))
                down += share
        top += high
    return boxes


def spots(count: int, width: float, height: float, room: float, gap: float) -> tuple[int, int]:
    """Columns and rows in which ``count`` pieces of one size lie with a gap between them, on a width of ``room``."""
    columns = max(1, min(count, int((room + gap + _TINY) // (width + gap))))
    rows = ceil(count / columns)
    return ceil(count / rows), rows
