"""Words beside a drawing, each with a line to what it names."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.sheets.drawings.canvas import INK, PAPER, THIN, Canvas, Point
from docgen.sheets.drawings.panels import LINE, WORD, wrapped


def callouts(canvas: Canvas, left: float, named: Sequence[tuple[Point, str]]) -> None:
    """Words in a column from ``left`` to the drawing's right edge, in the order given, each near its point.

    named : each point with its words, from the top
    """
    lines = [wrapped(text, canvas.width - left) for _, text in named]
    half = [LINE * len(one) / 2 for one in lines]
    places: list[float] = []
    low = 0.0
    for (point, _), high in zip(named, half, strict=True):
        places.append(max(low + high, point[1]))
        low = places[-1] + high + 0.3
    limit = canvas.height
    for n in range(len(places) - 1, -1, -1):
        places[n] = min(places[n], limit - half[n])
        limit = places[n] - half[n] - 0.3
    for (point, _), one, middle in zip(named, lines, places, strict=True):
        for n, text in enumerate(one):
            canvas.text((left, middle + LINE * (n - (len(one) - 1) / 2)), text, WORD, anchor="start")
        leader(canvas, (left - 0.8, middle), point)


def leader(canvas: Canvas, start: Point, end: Point) -> None:
    """A thin line with white beside it, so that it shows on hatching, and a dot where it ends."""
    canvas.bar(start, end, 0.9, PAPER)
    canvas.circle(end, 0.85, 0, PAPER)
    canvas.line(start, end, THIN)
    canvas.circle(end, 0.6, 0, INK)


def spaced(wanted: Sequence[float], least: float) -> list[float]:
    """Places as near to the wanted ones (rising) as lets each stand ``least`` from the next.

    >>> spaced([1.0, 1.5, 9.0], 2.0)
    [0.25, 2.25, 9.0]
    """
    groups: list[list[float]] = []
    for place in wanted:
        groups.append([place])
        while len(groups) > 1 and _last(groups[-2], least) + least > _first(groups[-1], least):
            groups[-2:] = [groups[-2] + groups[-1]]
    return [_first(group, least) + least * n for group in groups for n in range(len(group))]


def _first(group: Sequence[float], least: float) -> float:
    return sum(group) / len(group) - least * (len(group) - 1) / 2


def _last(group: Sequence[float], least: float) -> float:
    return _first(group, least) + least * (len(group) - 1)
