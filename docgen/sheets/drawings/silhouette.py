"""The outline of a piece lying down, as large as it is given: where it goes on a mat."""

from __future__ import annotations

from docgen.plan.laydown import Footprint
from docgen.sheets.drawings.canvas import PAPER, THIN, TINT, Bent, Canvas, Point
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
    lying = piece.width > piece.height
    long, wide = (piece.width, piece.height) if lying else (piece.height, piece.width)
    head, edge = long / 5, wide / 4
    on = Bent(canvas, lambda p: (at[0] + p[0], at[1] + p[1]) if lying else (at[0] + p[1], at[1] + p[0]))
    on.rectangle(_RIM, _RIM, head - _RIM, wide - 2 * _RIM, THIN, ground, 0.6, dash)
    on.rectangle(head, edge, long - head - _RIM, wide / 2, THIN, ground, 0.6, dash)
    if not dash:
        on.line((head, edge), (head, wide - edge), THIN)
