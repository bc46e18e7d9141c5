"""The order in which several fasteners are tightened, as numbered heads on the outline of what they hold."""

from collections.abc import Mapping
from math import cos, pi, sin, sqrt

from docgen.club.words import Words
from docgen.job.wording import IN_ENGLISH
from docgen.sheets.drawings.canvas import PAPER, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.profiles import length
from docgen.trade.pattern import Screw, circle, rectangle, row

WIDTH, HEIGHT = 52.0, 30.0
"""Of the drawing, mm."""
_LEAST, _MOST = 3, 16
_ROUND, _OBLONG = {"outer": "1 mm"}, {"length": "3 mm", "width": "2 mm"}


def places(pattern: str, count: int) -> tuple[Screw, ...]:
    """Where the heads of a model's pattern stand; nothing when the count does not make one.

    pattern : circle, rectangle (two rows; a frame of three by three for eight would need to be stated) or row
    """
    if not _LEAST <= count <= _MOST:
        return ()
    if pattern == "rectangle":
        return rectangle(count // 2, 2) if count % 2 == 0 else ()
    return {"circle": circle, "row": row}[pattern](count) if pattern else ()


def pattern_picture(
    pattern: str, count: int, outline: Mapping[str, str] | None = None, drive: str = "", words: Words = IN_ENGLISH
) -> str | None:
    """Draw the heads of a pattern, each with its number in the order of tightening; None when there is no order.

    outline : the shape of the part that they hold: its proportions, and its hole
    drive   : as the model has it; hexagons are drawn as such
    """
    found = places(pattern, count)
    if not found:
        return None
    turns = ", ".join(str(place.turn) for place in found)
    title = words("Tightening order of {count}; as they stand, the turns are {turns}", count=count, turns=turns)
    canvas, middle = Canvas(WIDTH, HEIGHT, title), (WIDTH / 2, HEIGHT / 2)
    radius = (0.12 if count <= 8 else 0.09) * HEIGHT
    x, y = _part(canvas, middle, outline or (_ROUND if pattern == "circle" else _OBLONG), WIDTH - 1.0, HEIGHT - 1.0)
    across, up = x - radius - 1.2, y - radius - 1.2
    if pattern == "circle":
        across = up = min(across, up)
    for place in found:
        centre = (middle[0] + place.x * across, middle[1] - place.y * up)
        if drive.startswith("hex "):
            canvas.polygon(hexagon(centre, radius), 2 * THIN, PAPER)
        else:
            canvas.circle(centre, radius, 2 * THIN)
        canvas.text(centre, str(place.turn), radius * 1.35)
    return canvas.svg()


def hexagon(centre: Point, half: float) -> list[Point]:
    """A hexagon by half the width over its flats, two of them upright."""
    corner = 2 * half / sqrt(3)
    return [(centre[0] + corner * sin(pi / 3 * n), centre[1] - corner * cos(pi / 3 * n)) for n in range(6)]


def _part(canvas: Canvas, middle: Point, shape: Mapping[str, str], wide: float, high: float) -> Point:
    """The outline of the part; half its width and height as drawn. The longer side lies across."""
    outer, inner = length(shape, "outer"), length(shape, "inner")
    if outer:
        radius = min(wide, high) / 2
        canvas.circle(middle, radius, THIN, TINT)
        if inner:
            canvas.circle(middle, radius * min(inner / outer, 0.4), THIN, PAPER)
        return radius, radius
    long, short = sorted((length(shape, "length") or 3.0, length(shape, "width") or 2.0), reverse=True)
    scale = min(wide / long, high / short)
    x, y = long * scale / 2, short * scale / 2
    canvas.rectangle(middle[0] - x, middle[1] - y, 2 * x, 2 * y, THIN, TINT, 3.0)
    return x, y
