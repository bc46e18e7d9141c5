"""Where a reading is taken: the piece, with an arrow or a number at each place where the gauge goes.

A limit or setting of a model asks for one by its name here. A wrong picture is worse than none: where a drawing needs
words that it does not find among the positions, it is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from docgen.sheets.drawings import gauged_engine, gauged_parts
from docgen.sheets.drawings.callouts import callouts
from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, TINT, Canvas
from docgen.sheets.drawings.gauge_marks import between
from docgen.sheets.drawings.gauged_lever import lever_above, lever_below
from docgen.sheets.drawings.gauged_rig import pressure_rig
from docgen.sheets.drawings.panels import FRAME, WORD
from docgen.sheets.words import Words

TOP, CROWN = 17.6, 21.2
"""Height of the crown at the top of its stroke, and where it stands when the marks meet; mm from above as drawn."""
_CENTRE = (14.0, 12.4)
_WIDE, _HIGH = 63.0, 29.8


def timing_dial(title: str, words: Mapping[str, str]) -> str:
    """Rotor with both marks on the left, cylinder with the dial on the right."""
    said = [words["marks-in-line"], words["before-top"]]
    canvas = Canvas(FRAME[0], _HIGH, "; ".join([title, *said]))
    _rotor(canvas)
    _cylinder(canvas.within((31.0, 0), 1.0))
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


WIDTH, HEIGHT = 52.0, 36.0

Draw = Callable[[Canvas, Sequence[str]], bool]
"""Draws into a canvas of WIDTH by HEIGHT; False where the positions do not say what to draw."""

PICTURES: dict[str, Draw] = {
    name.replace("_", "-"): function
    for module in (gauged_engine, gauged_parts)
    for name, function in vars(module).items()
    if getattr(function, "__module__", "") == module.__name__ and not name.startswith("_")
}
"""Every drawing without words, by its name."""

WORDED: dict[str, Callable[..., str]] = {
    "lever-above": lever_above,
    "lever-below": lever_below,
    "pressure-rig": pressure_rig,
    "timing-dial": timing_dial,
}
"""Every drawing with words in it, of a size of its own."""

NUMBERED = frozenset({"bore", "drum", "squish", "run-out"})
"""Those that show each position by its number."""


def gauging_picture(
    picture: str,
    name: str,
    where: str,
    positions: Sequence[str],
    said: str = "Where the {name} is taken",
    *,
    words: Words | None = None,
    **marks: str,
) -> str | None:
    """The drawing of where a reading is taken; None where there is none.

    picture         : one of PICTURES or WORDED
    name, where     : of the limit or setting, for the alternative text, in the words `said`
    positions       : the places of several readings; their numbers stand in the drawing
    words           : for drawings that have words in them
    marks           : a pressure's ``ceiling`` or ``leak``, as it prints
    """
    places = "; ".join(f"{n} {place}" for n, place in enumerate(positions, 1))
    title = ", ".join(filter(None, (said.format(name=name), where, places)))
    if picture in WORDED:
        return WORDED[picture](title, (words or Words()).drawn, **marks)
    scale = min(FRAME[0] / WIDTH, FRAME[1] / HEIGHT)
    canvas = Canvas(WIDTH * scale, HEIGHT * scale, title)
    return canvas.svg() if PICTURES[picture](canvas.within((0, 0), scale), positions) else None
