"""A round part in section on its shaft, the right way round against what it faces."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.sheets.drawings.canvas import THIN, Canvas, Point
from docgen.sheets.drawings.profiles import PROFILES, rim_washer, sizes

_AXIS, _WALL, _PART = 14.5, 9.0, 24.0


def section(canvas: Canvas, kind: str, shape: Mapping[str, str], *, telling_side_faces: bool, rim: bool) -> None:
    """Draw a round part on its shaft; what it faces is the hatched wall on the left.

    kind               : a name of ``PROFILES``
    shape              : stated sizes (outer, inner, thick, chamfer), each text with its unit
    telling_side_faces : the chamfer (marked face, shoulder, lip, hollow side) faces the wall; else it faces away
    rim                : a washer's chamfer is on its outer edge, not in its bore
    """
    draw, thick = PROFILES[kind]
    drawn = sizes(shape, thick)
    profile = rim_washer(drawn) if rim and kind == "washer" else draw(drawn)

    def place(point: Point, up: int) -> Point:
        x = point[0] if telling_side_faces else profile.width - point[0]
        return (_PART + x, _AXIS - up * point[1])

    shaft = drawn.bore - 0.35
    canvas.hatched([(0.3, 0.5), (_WALL, 0.5), (_WALL, 28.5), (0.3, 28.5)], 1.8, -1)
    canvas.polygon(
        [
            (_WALL, _AXIS - shaft),
            (47, _AXIS - shaft),
            (48, _AXIS - shaft + 1),
            (48, _AXIS + shaft - 1),
            (47, _AXIS + shaft),
            (_WALL, _AXIS + shaft),
        ],
        THIN,
    )
    for up in (1, -1):
        for cut in profile.cut:
            canvas.hatched([place(p, up) for p in cut], 0.9, 1, 0.7)
        for plain in profile.plain:
            canvas.polygon([place(p, up) for p in plain], THIN)
        for a, b in profile.bold:
            canvas.line(place(a, up), place(b, up), 1.6)
    canvas.line((2, _AXIS), (51, _AXIS), THIN, "5 1.2 1 1.2")
    canvas.arrow((_PART - 1.2, _AXIS - 9), (_WALL + 1, _AXIS - 9), 1.8, 5.5)
