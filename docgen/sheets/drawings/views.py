"""Parts that are not round on a shaft: each seen from where its telling side shows, what it faces on the left."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from docgen.sheets.drawings.canvas import INK, OUTLINE, THIN, TINT, Canvas, Point

WIDTH, HEIGHT = 52.0, 34.0
_TOP = 2.6


def _towards(canvas: Canvas, start: float = 26.0, end: float = 2.0) -> None:
    canvas.arrow((start, _TOP), (end, _TOP), OUTLINE * 2.2, 4.4)


def _wall(canvas: Canvas) -> None:
    canvas.hatched([(0, 6), (7, 6), (7, 33), (0, 33)], 1.6, -1)


def piston(canvas: Canvas, faces: bool) -> None:
    """The crown from above; its arrow points at what it faces."""
    centre, radius = (28.0, 19.5), 13.0
    canvas.circle(centre, radius)
    canvas.circle(centre, radius - 1.3, THIN, "none")
    ends = ((36.0, 19.5), (20.0, 19.5)) if faces else ((20.0, 19.5), (36.0, 19.5))
    canvas.arrow(*ends, 2.6, 8.0)


def ring(canvas: Canvas, faces: bool) -> None:
    """A piston ring from above with its gap on the side it faces."""
    centre, outer, inner = (28.0, 19.5), 13.0, 10.4
    start, sign = 0.16, -1 if faces else 1
    arc: list[Point] = [(centre[0] + sign * outer * cos(a), centre[1] + outer * sin(a))
                        for a in [start + n * (2 * pi - 2 * start) / 60 for n in range(61)]]
    back: list[Point] = [(centre[0] + sign * inner * cos(a), centre[1] + inner * sin(a))
                         for a in [start + n * (2 * pi - 2 * start) / 60 for n in range(60, -1, -1)]]
    canvas.polygon([*arc, *back], OUTLINE, TINT)


def _plate(canvas: Canvas, faces: bool, thick: float) -> tuple[float, float]:
    """A flat part edge-on; returns the x of its telling side and of the other."""
    _wall(canvas)
    left = 20.0
    canvas.hatched([(left, 7), (left + thick, 7), (left + thick, 32), (left, 32)], 1.1, 1)
    return (left, left + thick) if faces else (left + thick, left)


def gasket(canvas: Canvas, faces: bool) -> None:
    """A gasket edge-on; its sealing bead is on the telling side."""
    side, other = _plate(canvas, faces, 3.4)
    out = -1 if side < other else 1
    for y in (11.0, 28.0):
        canvas.polygon([(side, y - 2), (side + out * 2, y), (side, y + 2)], 0, INK)


def diaphragm(canvas: Canvas, faces: bool) -> None:
    """A diaphragm edge-on; its button (rivet head) is on the telling side."""
    side, other = _plate(canvas, faces, 2.0)
    out = -1 if side < other else 1
    x = side if out > 0 else side - 4.6
    canvas.rectangle(x, 16.5, 4.6, 6, OUTLINE, TINT, 0.8)


def reed(canvas: Canvas, faces: bool) -> None:
    """A reed petal edge-on on its seat, bent open towards its tip."""
    _wall(canvas)
    tilt = -6.0 if faces else 6.0
    canvas.hatched([(20, 28), (30, 28), (30, 33), (20, 33)], 1.1, 1)
    canvas.path(f"M25 28C25 20 25 14 {25 + tilt} 7", 1.4)
    canvas.line((25, 28), (25, 7), THIN, "1.2 1.2")


def chain_clip(canvas: Canvas, faces: bool) -> None:
    """A chain joining clip from the side; the closed end leads in the direction of travel, left."""
    def x(value: float) -> float:
        return value if faces else 52 - value

    y = 20.0
    canvas.rectangle(4, y - 8, 44, 16, THIN, TINT, 8)
    flip = 0 if faces else 1
    canvas.path(
        f"M{x(42)} {y - 1.6}L{x(40)} {y - 5.2}A5.2 5.2 0 0 {flip} {x(34)} {y - 4}L{x(20)} {y - 4}"
        f"A5.4 5.4 0 1 {flip} {x(20)} {y + 4}L{x(34)} {y + 4}A5.2 5.2 0 0 {flip} {x(40)} {y + 5.2}L{x(42)} {y + 1.6}",
        1.7,
    )
    for pin in (15.5, 36.5):
        canvas.circle((x(pin), y), 2.6)


def cover(canvas: Canvas, faces: bool) -> None:
    """A cover edge-on; its rim (open side) is the telling side."""
    _wall(canvas)
    a, b = (20.0, 29.0) if faces else (29.0, 20.0)
    t = 3.0 if faces else -3.0
    canvas.hatched([(a, 7), (b, 7), (b, 32), (a, 32), (a, 28), (b - t, 28), (b - t, 11), (a, 11)], 1.1, 1)


def block(canvas: Canvas, faces: bool) -> None:
    """Any part: a block whose telling side is the heavy edge."""
    _wall(canvas)
    canvas.rectangle(20, 8, 16, 24, OUTLINE, TINT)
    edge = 20.0 if faces else 36.0
    canvas.line((edge, 7.4), (edge, 32.6), 2.2)


VIEWS: dict[str, Callable[[Canvas, bool], None]] = {
    "piston": piston,
    "ring": ring,
    "gasket": gasket,
    "diaphragm": diaphragm,
    "reed": reed,
    "chain-clip": chain_clip,
    "cover": cover,
    "lever": block,
    "block": block,
}


def view(kind: str, *, telling_side_faces: bool, title: str) -> str:
    """Draw a part of a kind that ``VIEWS`` has, or as a block."""
    canvas = Canvas(WIDTH, HEIGHT, title)
    VIEWS.get(kind, block)(canvas, telling_side_faces)
    _towards(canvas)
    return canvas.svg()
