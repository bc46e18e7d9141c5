"""What shows where a gauge goes: double arrows, numbers in a ring, a pointer."""

from __future__ import annotations

from docgen.sheets.drawings.canvas import INK, PAPER, THIN, Canvas, Point

FIGURE = 5.0
"""Height of a number's ring, mm."""


def between(canvas: Canvas, a: Point, b: Point) -> None:
    """A double arrow from a to b; where they are too near for it, two arrows that point at them from outside."""
    length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    if length > 6:
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        canvas.arrow(middle, a, 0.8, 2.6)
        canvas.arrow(middle, b, 0.8, 2.6)
        return
    unit = ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length else (0.0, 1.0)
    canvas.arrow((a[0] - 6 * unit[0], a[1] - 6 * unit[1]), a, 0.8, 2.6)
    canvas.arrow((b[0] + 6 * unit[0], b[1] + 6 * unit[1]), b, 0.8, 2.6)


def numbered(canvas: Canvas, where: Point, number: int) -> None:
    """The number of a position."""
    canvas.circle(where, FIGURE / 2, THIN, PAPER)
    canvas.text(where, str(number), FIGURE * 0.72)


def axis(canvas: Canvas, a: Point, b: Point) -> None:
    """A centre line."""
    canvas.line(a, b, THIN, "5 1.2 1 1.2")


def edge(canvas: Canvas, a: Point, b: Point) -> None:
    """A thin line out from an edge that is measured to."""
    canvas.line(a, b, THIN)


def dial(canvas: Canvas, foot: Point, upwards: bool = True) -> None:
    """A dial gauge whose foot stands at a point, above it or on its right."""
    x, y = foot
    if upwards:
        canvas.line((x, y), (x, y - 5), 1.0)
        canvas.circle((x, y - 9.5), 4.5)
        canvas.line((x, y - 9.5), (x + 2.2, y - 12.4), 0.6)
    else:
        canvas.line((x, y), (x + 5, y), 1.0)
        canvas.circle((x + 9.5, y), 4.5)
        canvas.line((x + 9.5, y), (x + 11.7, y - 2.9), 0.6)
    canvas.circle(foot, 0.7, 0, INK)
