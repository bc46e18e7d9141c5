"""Ignition timing by dial: the indicator in the plug hole on the piston, and the marks of rotor and stator in line."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.sheets.drawings.callouts import callouts
from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, TINT, Canvas
from docgen.sheets.drawings.gauge_marks import between
from docgen.sheets.drawings.panels import WORD, frame

TOP, CROWN = 17.6, 21.2
"""Height of the crown at the top of its stroke, and where it stands when the marks meet; mm from above as drawn."""
_CENTRE = (14.0, 12.4)
_WIDE, _HIGH = 63.0, 29.8


def timing_dial(title: str, words: Mapping[str, str] | None, *, small: bool) -> str:
    """Rotor with both marks on the left, cylinder with the dial on the right."""
    said = [words["marks-in-line"], words["before-top"]] if words else []
    canvas = Canvas(frame(small)[0] if words else _WIDE, _HIGH, "; ".join([title, *said]))
    _rotor(canvas)
    _cylinder(canvas.within((31.0, 0), 1.0))
    if words:
        canvas.text((_CENTRE[0], 27.9), words["marks-in-line"], WORD)
        callouts(canvas, _WIDE + 5.0, [((61.6, (TOP + CROWN) / 2), words["before-top"])])
    return canvas.svg()


def _cylinder(canvas: Canvas) -> None:
    for left, right, slope in ((0.4, 4.0, 1), (23.0, 26.6, -1)):
        canvas.hatched([(left, 14.6), (right, 14.6), (right, 29.4), (left, 29.4)], 1.1, slope, 0.4)
    canvas.hatched([(0.4, 14.6), (0.4, 9.4), (11.4, 9.4), (11.4, 12.6), (7.0, 14.6)], 1.1, 1, 0.4)
    canvas.hatched([(26.6, 14.6), (26.6, 9.4), (15.6, 9.4), (15.6, 12.6), (20.0, 14.6)], 1.1, -1, 0.4)
    canvas.rectangle(4.0, CROWN, 19.0, 29.4 - CROWN, OUTLINE, TINT)
    for y in (CROWN + 1.8, CROWN + 3.4):
        canvas.line((4.0, y), (23.0, y), 0.5)
    canvas.line((13.5, CROWN), (13.5, 7.6), 0.9)
    canvas.rectangle(12.2, 7.4, 2.6, 4.6, 0.4, PAPER)
    canvas.circle((13.5, 4.2), 3.9, OUTLINE)
    canvas.line((13.5, 4.2), (15.4, 2.2), 0.6)
    canvas.circle((13.5, CROWN), 0.6, 0, INK)
    canvas.line((4.0, TOP), (32.0, TOP), THIN, "1.4 0.8")
    canvas.line((23.0, CROWN), (32.0, CROWN), THIN)
    between(canvas, (30.6, TOP), (30.6, CROWN))


def _rotor(canvas: Canvas) -> None:
    (x, y), radius = _CENTRE, 9.0
    canvas.circle(_CENTRE, radius + 3.0, OUTLINE, PAPER)
    canvas.circle(_CENTRE, radius, OUTLINE, TINT)
    canvas.circle(_CENTRE, 2.2, 0.4)
    canvas.line((x, y - radius + 4.4), (x, y - radius + 0.5), 1.4)
    canvas.line((x, y - radius - 0.5), (x, y - radius - 2.8), 1.4)
