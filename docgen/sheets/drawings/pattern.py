"""The order in which several fasteners are tightened, as numbered heads."""

from __future__ import annotations

from docgen.sheets.drawings.canvas import THIN, Canvas
from docgen.trade.pattern import Place, circle, rectangle, row

WIDTH, HEIGHT = 52.0, 38.0
_LEAST, _MOST = 3, 16


def places(pattern: str, count: int) -> tuple[Place, ...]:
    """Where the heads of a model's pattern stand; nothing when the count does not make one.

    pattern : circle, rectangle (two rows; a frame of three by three for eight would need to be stated) or row
    """
    if not _LEAST <= count <= _MOST:
        return ()
    if pattern == "rectangle":
        return rectangle(count // 2, 2) if count % 2 == 0 else ()
    return {"circle": circle, "row": row}[pattern](count) if pattern else ()


def pattern_picture(pattern: str, count: int) -> str | None:
    """Draw the heads of a pattern, each with its number in the order of tightening; None when there is no order."""
    found = places(pattern, count)
    if not found:
        return None
    turns = ", ".join(str(place.turn) for place in found)
    canvas = Canvas(WIDTH, HEIGHT, f"Tightening order of {count} in a {pattern}; as they stand, the turns are {turns}")
    across = 13.5 if pattern == "circle" else 20.5
    radius = 4.6 if count <= 8 else 3.2
    for place in found:
        centre = (WIDTH / 2 + place.x * across, HEIGHT / 2 - place.y * 13.5)
        canvas.circle(centre, radius, 2 * THIN)
        canvas.text(centre, str(place.turn), radius * 1.35)
    return canvas.svg()
