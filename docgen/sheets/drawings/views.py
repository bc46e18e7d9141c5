"""Parts that are not round on a shaft, each seen from where its telling side shows; what it faces is left or above."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, TINT, Canvas

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
    """A ring in its groove, piston and cylinder cut open, crown above; its marked side is heavy, up or down."""
    canvas.hatched([(41, 0.5), (51, 0.5), (51, 28.5), (41, 28.5)], 1.6, -1)
    top, low = 12.0, 17.0
    canvas.hatched([(4, 4), (39.4, 4), (39.4, top), (27, top), (27, low), (39.4, low), (39.4, 28.5), (4, 28.5)], 1.6, 1)
    canvas.hatched([(29.4, top + 0.5), (40.6, top + 0.5), (40.6, low - 0.5), (29.4, low - 0.5)], 0.8, 1, 0.5)
    side = top + 0.5 if faces else low - 0.5
    canvas.line((29.4, side), (40.6, side), 1.3)
    canvas.polygon(_disc((12.0, 16.0), 6.4), 0)
    canvas.arrow((12.0, 21.6), (12.0, 10.6), 1.8, 5.5)


def _disc(centre: tuple[float, float], radius: float) -> list[tuple[float, float]]:
    return [(centre[0] + radius * cos(2 * pi * n / 24), centre[1] + radius * sin(2 * pi * n / 24)) for n in range(24)]


def _plate(canvas: Canvas, faces: bool, thick: float) -> None:
    """A flat part edge-on, its telling side heavy."""
    wall(canvas)
    left = 26.0
    canvas.hatched([(left, 0.8), (left + thick, 0.8), (left + thick, 28.2), (left, 28.2)], 0.9, 1, 0.7)
    side = left if faces else left + thick
    canvas.line((side, 0.5), (side, 28.5), 1.6)
    _pointer(canvas, left - 1.4)


def gasket(canvas: Canvas, faces: bool) -> None:
    """A gasket edge-on; its telling side (bead, print) is the heavy one."""
    _plate(canvas, faces, 4.0)


def tab(canvas: Canvas, faces: bool) -> None:
    """A flange gasket from its face: passage, two holes, its tab at the top or at the foot."""
    y = 15.6 if faces else 13.4
    sign = -1 if faces else 1
    outline = [(9.0, y - 6), (17.0, y - 10.4), (35.0, y - 10.4), (43.0, y - 6), (43.0, y + 6), (35.0, y + 10.4),
               (17.0, y + 10.4), (9.0, y + 6)]  # fmt: skip
    canvas.polygon(outline, OUTLINE, TINT)
    foot, end = y + sign * 10.4, y + sign * 14.2
    canvas.polygon([(22.4, foot), (22.4, end), (29.6, end), (29.6, foot)], 0, INK)
    canvas.circle((26.0, y), 6.6, OUTLINE)
    for x in (13.6, 38.4):
        canvas.circle((x, y), 1.9, OUTLINE)
    canvas.arrow((47.6, 24.0), (47.6, 5.0), 1.8, 5.5)


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


def strainer(canvas: Canvas, faces: bool) -> None:
    """A round sieve in section: its mesh dashed, its rim standing up on the telling side."""
    wall(canvas)
    mesh, rim = (30.0, 21.0) if faces else (22.0, 31.0)
    for y in (2.0, 27.0):
        low, high = (y, y + 2.4) if y < _MIDDLE else (y - 2.4, y)
        ends = sorted((mesh, rim))
        canvas.rectangle(ends[0], low, ends[1] - ends[0], high - low, 0.5, INK)
    canvas.line((mesh, 2.2), (mesh, 26.8), 1.2, "1.6 1.1")
    canvas.arrow((19.6, _MIDDLE), (_WALL + 1, _MIDDLE), 1.8, 5.5)


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


def block_up(canvas: Canvas, faces: bool) -> None:
    """Any part that looks upwards: a block whose upper edge is heavy."""
    canvas.rectangle(10, 8, 26, 20, OUTLINE, TINT)
    edge = 8.0 if faces else 28.0
    canvas.line((9.6, edge), (36.4, edge), 2.4)
    canvas.arrow((44.0, 26.0), (44.0, 3.0), 1.8, 5.5)


def arrow(canvas: Canvas, faces: bool) -> None:
    """Any part with an arrow on it, which points at the wall."""
    wall(canvas)
    canvas.rectangle(16, 4, 32, 21, OUTLINE, TINT)
    canvas.arrow((44, _MIDDLE), (19, _MIDDLE), 3.0, 9.0)


def arrow_up(canvas: Canvas, faces: bool) -> None:
    """Any part with an arrow on it, which points upwards."""
    canvas.rectangle(10, 2, 32, 26, OUTLINE, TINT)
    canvas.arrow((26, 25), (26, 5), 3.0, 9.0)


def marks(canvas: Canvas, faces: bool) -> None:
    """Two gears in mesh from their face, a punch mark on each, where they meet."""
    for x, count, turn in ((13.6, 20, 0.0), (38.2, 20, pi / 20)):
        teeth = []
        for n in range(count * 4):
            radius = 12.8 if n % 4 in (1, 2) else 11.0
            angle = turn + 2 * pi * (n - 1.5) / (count * 4)
            teeth.append((x + radius * cos(angle), _MIDDLE + radius * sin(angle)))
        canvas.polygon(teeth, 0.4, TINT)
        canvas.circle((x, _MIDDLE), 3.0, OUTLINE, PAPER)
    for x in (21.8, 30.0):
        canvas.circle((x, _MIDDLE), 1.3, 0, INK)


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
    "tab": tab,
    "diaphragm": diaphragm,
    "strainer": strainer,
    "reed": reed,
    "chain-clip": chain_clip,
    "cover": cover,
    "pin": pin,
    "arrow": arrow,
    "arrow-up": arrow_up,
    "marks": marks,
    "block": block,
    "block-up": block_up,
}


NAMED_BESIDE: dict[str, tuple[float, float]] = {
    "chain-clip": (32.0, 4.0), "tab": (50.0, 6.0), "block-up": (47.0, 5.0), "arrow-up": (44.0, 5.0)
}  # fmt: skip
"""Where the words for what a part looks at begin; beside the wall on the left for all others."""
NOT_NAMED = frozenset({"marks"})
"""Views in which what the part looks at is itself drawn."""
