"""The outline of a piece lying down, as large as it is given: where it goes on a mat."""

from __future__ import annotations

from docgen.plan.laydown import Footprint
from docgen.sheets.drawings.canvas import PAPER, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.pattern import hexagon

GAP = 4.0
"""Space between the pieces of one place, mm."""
_RIM = 0.15
"""Half of the outline's weight, which is drawn inside the stated size."""


def silhouettes(piece: Footprint, columns: int, rows: int, count: int, *, new: bool, title: str) -> str:
    """``count`` outlines in a grid. A piece that goes back is grey; one that does not is white, dashed."""
    width, height = piece.width, piece.height
    canvas = Canvas(columns * (width + GAP) - GAP, rows * (height + GAP) - GAP, title)
    for n in range(count):
        _outline(canvas, piece, ((n % columns) * (width + GAP), (n // columns) * (height + GAP)), new)
    return canvas.svg()


def _outline(canvas: Canvas, piece: Footprint, at: Point, new: bool) -> None:
    x, y = at
    ground, dash = (PAPER, "1.2 0.8") if new else (TINT, "")
    width, height = piece.width - 2 * _RIM, piece.height - 2 * _RIM
    if piece.round:
        middle = (x + piece.width / 2, y + piece.height / 2)
        canvas.circle(middle, width / 2, THIN, ground, dash)
        if piece.bore:
            canvas.circle(middle, piece.bore / 2, THIN, PAPER, dash)
    elif piece.kind == "nut":
        middle = (x + piece.width / 2, y + piece.height / 2)
        canvas.polygon(hexagon(middle, piece.width / 2 - 0.87 * _RIM), THIN, ground, dash)
        canvas.circle(middle, piece.bore / 2, THIN, PAPER, dash)
    elif piece.kind == "screw":
        _screw(canvas, piece, at, dash, ground)
    else:
        corner = min(2.0, min(width, height) / 4)
        canvas.rectangle(x + _RIM, y + _RIM, width, height, THIN, ground, corner, dash)


def _screw(canvas: Canvas, piece: Footprint, at: Point, dash: str, ground: str) -> None:
    """Head and shank, along the longer side."""
    x, y = at
    lying = piece.width > piece.height
    long, wide = (piece.width, piece.height) if lying else (piece.height, piece.width)
    head, thick = long / 5, wide / 2

    def box(along: float, across: float, length: float, breadth: float) -> None:
        left, top = (x + along, y + across) if lying else (x + across, y + along)
        width, height = (length, breadth) if lying else (breadth, length)
        canvas.rectangle(left, top, width, height, THIN, ground, 0.6, dash)

    box(_RIM, _RIM, head - _RIM, wide - 2 * _RIM)
    box(head, (wide - thick) / 2, long - head - _RIM, thick)
    if not dash:
        edge = (wide - thick) / 2
        a, b = (x + head, y + edge), (x + head, y + wide - edge)
        if not lying:
            a, b = (x + edge, y + head), (x + wide - edge, y + head)
        canvas.line(a, b, THIN)
