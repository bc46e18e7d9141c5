"""Parts that are not round on a shaft: each seen from where its telling side shows, what it faces on the left."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from docgen.sheets.drawings.canvas import INK, OUTLINE, THIN, TINT, Canvas

WIDTH, HEIGHT = 52.0, 29.0
_MIDDLE, _WALL = 14.5, 9.0


def wall(canvas: Canvas) -> None:
    """What the part faces."""
    canvas.hatched([(0.3, 0.5), (_WALL, 0.5), (_WALL, 28.5), (0.3, 28.5)], 1.8, -1)


def _pointer(canvas: Canvas, start: float) -> None:
    canvas.arrow((start, _MIDDLE - 9), (_WALL + 1, _MIDDLE - 9), 1.8, 5.5)


def piston(canvas: Canvas, faces: bool) -> None:
    """The crown from above; its arrow points at what it faces."""
    wall(canvas)
    centre, radius = (31.0, _MIDDLE), 13.2
    canvas.circle(centre, radius)
    canvas.circle(centre, radius - 1.4, THIN, "none")
    ends = ((40.0, _MIDDLE), (21.0, _MIDDLE)) if faces else ((21.0, _MIDDLE), (40.0, _MIDDLE))
    canvas.arrow(*ends, 3.0, 9.0)


def ring(canvas: Canvas, faces: bool) -> None:
    """A piston ring in section in its groove, lying flat; the marked side is heavy and looks at the wall."""
    _plate(canvas, faces, 5.0)


def gap(canvas: Canvas, faces: bool) -> None:
    """A circlip from the front, its gap towards the wall, or away from it."""
    wall(canvas)
    sign = -1 if faces else 1
    centre, start = (32.0, _MIDDLE), 0.42
    angles = [start + n * (2 * pi - 2 * start) / 60 for n in range(61)]
    outer = [(centre[0] + sign * 12.6 * cos(a), centre[1] + 12.6 * sin(a)) for a in angles]
    inner = [(centre[0] + sign * 9.6 * cos(a), centre[1] + 9.6 * sin(a)) for a in reversed(angles)]
    canvas.polygon([*outer, *inner], OUTLINE, TINT)
    canvas.arrow((28, _MIDDLE) if faces else (17, _MIDDLE), (_WALL + 1, _MIDDLE), 1.8, 5.5)


def _plate(canvas: Canvas, faces: bool, thick: float) -> tuple[float, float]:
    """A flat part edge-on; returns the x of its telling side and of the other."""
    wall(canvas)
    left = 26.0
    canvas.hatched([(left, 0.8), (left + thick, 0.8), (left + thick, 28.2), (left, 28.2)], 0.9, 1, 0.7)
    side, other = (left, left + thick) if faces else (left + thick, left)
    canvas.line((side, 0.5), (side, 28.5), 1.6)
    _pointer(canvas, left - 1.4)
    return side, other


def gasket(canvas: Canvas, faces: bool) -> None:
    """A gasket edge-on; its telling side (bead, print) is the heavy one."""
    _plate(canvas, faces, 4.0)


def diaphragm(canvas: Canvas, faces: bool) -> None:
    """A diaphragm edge-on; the long end of its centre rivet is on the telling side."""
    wall(canvas)
    left, thick = 27.0, 1.6
    canvas.hatched([(left, 0.8), (left + thick, 0.8), (left + thick, 28.2), (left, 28.2)], 0.8, 1, 0.7)
    long_side = -1 if faces else 1
    middle = left + thick / 2
    for out, reach, width in ((long_side, 8.0, 4.4), (-long_side, 2.6, 7.6)):
        x = middle + (thick / 2 if out > 0 else -thick / 2 - reach)
        canvas.rectangle(x, _MIDDLE - width / 2, reach, width, OUTLINE, TINT if out != long_side else INK, 0.5)
    _pointer(canvas, left - 1.4)


def reed(canvas: Canvas, faces: bool) -> None:
    """A reed petal edge-on on its seat, held at its foot; its free side looks at the wall, or away from it."""
    wall(canvas)
    x = 27.0
    seat, petal = ((x + 1.6, x + 8.0), x) if faces else ((x - 8.0, x - 1.6), x)
    canvas.hatched([(seat[0], 8), (seat[1], 8), (seat[1], 28.2), (seat[0], 28.2)], 0.9, 1, 0.7)
    canvas.line((petal, 2), (petal, 28.2), 1.6)
    _pointer(canvas, min(seat[0], petal) - 1.6)


def chain_clip(canvas: Canvas, faces: bool) -> None:
    """A chain joining clip from the side; the closed end leads the way that the chain runs, left."""

    def x(value: float) -> float:
        return value if faces else WIDTH - value

    y, flip = 18.5, 0 if faces else 1
    canvas.rectangle(3, y - 9, 46, 18, THIN, TINT, 9)
    canvas.path(
        f"M{x(44)} {y - 1.6}L{x(42)} {y - 5.4}A5.2 5.2 0 0 {flip} {x(35)} {y - 4.4}L{x(18)} {y - 4.4}"
        f"A5.8 5.8 0 1 {flip} {x(18)} {y + 4.4}L{x(35)} {y + 4.4}"
        f"A5.2 5.2 0 0 {flip} {x(42)} {y + 5.4}L{x(44)} {y + 1.6}",
        1.9,
    )
    for pin in (14.4, 37.6):
        canvas.circle((x(pin), y), 2.9)
    canvas.arrow((30, 4), (3, 4), 2.0, 6.0)


def cover(canvas: Canvas, faces: bool) -> None:
    """A cover edge-on; its rim (open side) is the telling side."""
    wall(canvas)
    a, b = (23.0, 33.0) if faces else (33.0, 23.0)
    t = 3.0 if faces else -3.0
    canvas.hatched([(a, 0.8), (b, 0.8), (b, 28.2), (a, 28.2), (a, 24), (b - t, 24), (b - t, 5), (a, 5)], 0.9, 1, 0.7)
    canvas.arrow((21.8, _MIDDLE), (_WALL + 1, _MIDDLE), 1.8, 5.5)


def block(canvas: Canvas, faces: bool) -> None:
    """Any part: a block whose telling side is the heavy edge."""
    wall(canvas)
    canvas.rectangle(26, 1, 16, 27, OUTLINE, TINT)
    edge = 26.0 if faces else 42.0
    canvas.line((edge, 0.6), (edge, 28.4), 2.4)
    _pointer(canvas, 24.4)


def pin(canvas: Canvas, faces: bool) -> None:
    """A needle or pin lying along its travel; its tip is the telling end."""
    wall(canvas)
    y = _MIDDLE

    def x(value: float) -> float:
        return value if faces else 67 - value

    canvas.polygon([(x(22), y), (x(28), y - 4.2), (x(45), y - 4.2), (x(45), y + 4.2), (x(28), y + 4.2)], OUTLINE, TINT)
    canvas.polygon([(x(22), y), (x(28), y - 4.2), (x(28), y + 4.2)], OUTLINE, INK)
    canvas.arrow((20.8, y), (_WALL + 1, y), 1.8, 5.5)


VIEWS: dict[str, Callable[[Canvas, bool], None]] = {
    "piston": piston,
    "ring": ring,
    "gasket": gasket,
    "diaphragm": diaphragm,
    "reed": reed,
    "chain-clip": chain_clip,
    "cover": cover,
    "pin": pin,
    "gap": gap,
    "lever": block,
    "block": block,
}


def view(kind: str, *, telling_side_faces: bool, title: str) -> str:
    """Draw a part of a kind that ``VIEWS`` has, or as a block."""
    canvas = Canvas(WIDTH, HEIGHT, title)
    VIEWS.get(kind, block)(canvas, telling_side_faces)
    return canvas.svg()
