"""Where a reading is taken: the piece, with an arrow or a number at each place where the gauge goes.

A limit or setting of a model asks for one by its name here. A wrong picture is worse than none: where a drawing needs
words that it does not find among the positions, it is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from docgen.sheets.drawings import gauged_engine, gauged_parts
from docgen.sheets.drawings.canvas import Canvas
from docgen.sheets.drawings.gauged_lever import lever_above, lever_below
from docgen.sheets.drawings.gauged_rig import pressure_rig
from docgen.sheets.drawings.panels import frame
from docgen.sheets.drawings.timing import timing_dial
from docgen.sheets.words import Words

WIDTH, HEIGHT = 52.0, 36.0
_LARGEST = 1.25

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
"""Every drawing with words in it, of a size of its own; the words are left out where none are passed."""

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
    small: bool | None = None,
    **marks: str,
) -> str | None:
    """The drawing of where a reading is taken; None where there is none.

    picture         : one of PICTURES or WORDED
    name, where     : of the limit or setting, for the alternative text, in the words `said`
    positions       : the places of several readings; their numbers stand in the drawing
    words           : for drawings that have words in them
    small           : for the bench leaf (True) or the reading (False); WIDTH by HEIGHT where it is None
    marks           : a pressure's ``ceiling`` or ``leak``, as it prints
    """
    places = "; ".join(f"{n} {place}" for n, place in enumerate(positions, 1))
    title = ", ".join(filter(None, (said.format(name=name), where, places)))
    if picture in WORDED:
        return WORDED[picture](title, words.drawn if words else None, small=small is not False, **marks)
    most = (WIDTH, HEIGHT) if small is None else frame(small)
    scale = min(most[0] / WIDTH, most[1] / HEIGHT, _LARGEST)
    canvas = Canvas(WIDTH * scale, HEIGHT * scale, title)
    return canvas.svg() if PICTURES[picture](canvas.within((0, 0), scale), positions) else None
