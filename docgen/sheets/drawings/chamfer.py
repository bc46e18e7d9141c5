"""A washer's chamfer over the radius of its shaft, cut open at the corner; and the wrong way, which stands off.

All sizes are the stated ones, four times as large; only the clearance
between bore and shaft is assumed.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin, sqrt

from docgen.club.words import Words
from docgen.sheets.drawings.canvas import Canvas, Point
from docgen.sheets.drawings.panels import Panel, panelled
from docgen.sheets.drawings.profiles import length

SCALE = 4.0
"""As drawn on the bench leaf."""
CLEARANCE = 0.05
"""Between bore and shaft, on the radius, mm; assumed."""
_SIZE = (32.0, 25.2)
_CORNER: Point = (15.5, 18.5)
"""Where shaft and shoulder would meet without their radius, on a panel."""
NEEDED = ("inner", "thick", "chamfer", "radius", "shoulder", "journal")


def stands_off(radius: float) -> float:
    """How far a sharp bore keeps a washer off the shoulder, mm: where its edge meets the radius of the corner.

    With the corner at the origin the radius is the circle about (r, r); the edge lies CLEARANCE above the shaft.

    >>> round(stands_off(0.8), 2)
    0.52
    """
    return radius - sqrt(max(0.0, radius**2 - (radius - CLEARANCE) ** 2))


def chamfer_picture(shape: Mapping[str, str], title: str, words: Words) -> str | None:
    """The washer the right way round and the wrong way; None where a size is missing or the chamfer clears nothing.

    shape : the washer's sizes, with the shaft's ``radius``, ``shoulder`` and ``journal``
    """
    found = {key: length(shape, key) for key in NEEDED}
    given = {key: value for key, value in found.items() if value}
    if len(given) < len(NEEDED) or given["chamfer"] < given["radius"] or given["shoulder"] <= given["journal"]:
        return None
    right = Panel(lambda canvas: _corner(canvas, given, wrong=False), words("clears the radius"), "good")
    wrong = Panel(lambda canvas: _corner(canvas, given, wrong=True), words("stands off"), "wrong")
    return panelled((right, wrong), _SIZE, title, words)


def _corner(canvas: Canvas, given: Mapping[str, float], *, wrong: bool) -> None:
    """Shaft with shoulder and radius, what sits on the shoulder's thread, the washer against both."""
    radius, thick, chamfer = (SCALE * given[key] for key in ("radius", "thick", "chamfer"))
    high = SCALE * (given["shoulder"] - given["journal"]) / 2
    (x, y), (wide, low) = _CORNER, _SIZE
    arc = [(x + radius - radius * cos(a), y - radius + radius * sin(a)) for a in (pi / 2 * n / 12 for n in range(13))]
    shaft = [(0.3, y - high), (x, y - high), *arc, (wide - 0.3, y), (wide - 0.3, low - 0.4), (0.3, low - 0.4)]
    canvas.hatched([(5.6, 0.3), (x, 0.3), (x, y - high), (5.6, y - high)], 1.7, -1)
    canvas.hatched(shaft, 2.4, 1)
    bore = y - SCALE * CLEARANCE
    left = x + (SCALE * stands_off(given["radius"]) if wrong else 0.0)
    right = left + thick
    edge = (
        [(left, bore), (right - chamfer, bore), (right, bore - chamfer)]
        if wrong
        else [(left, bore - chamfer), (left + chamfer, bore), (right, bore)]
    )
    torn = [(right, 1.2), (left + 0.66 * thick, 2.6), (left + 0.33 * thick, 0.6), (left, 1.8)]
    canvas.hatched([*edge, *torn], 0.9, 1)
    if wrong:
        canvas.gap((x, 5.2), (left, 5.2))
