"""Where a reading is taken: the piece, with an arrow or a number at each place where the gauge goes.

A limit or setting of a model asks for one by its name here. A wrong picture is worse than none: where a drawing needs
words that it does not find among the positions, it is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from docgen.sheets.drawings import gauged_engine, gauged_parts
from docgen.sheets.drawings.canvas import Canvas

WIDTH, HEIGHT = 52.0, 36.0

Draw = Callable[[Canvas, Sequence[str]], bool]
"""Draws into a canvas of WIDTH by HEIGHT; False where the positions do not say what to draw."""

PICTURES: dict[str, Draw] = {
    name.replace("_", "-"): function
    for module in (gauged_engine, gauged_parts)
    for name, function in vars(module).items()
    if getattr(function, "__module__", "") == module.__name__ and not name.startswith("_")
}
"""Every drawing by its name."""

NUMBERED = frozenset({"bore", "drum", "squish", "run-out"})
"""Those that show each position by its number."""


def gauging_picture(
    picture: str, name: str, where: str, positions: Sequence[str], said: str = "Where the {name} is taken"
) -> str | None:
    """The drawing of where a reading is taken; None where there is none.

    picture         : one of PICTURES
    name, where     : of the limit or setting, for the alternative text, in the words `said`
    positions       : the places of several readings; their numbers stand in the drawing
    """
    places = "; ".join(f"{n} {place}" for n, place in enumerate(positions, 1))
    canvas = Canvas(WIDTH, HEIGHT, ", ".join(filter(None, (said.format(name=name), where, places))))
    return canvas.svg() if PICTURES[picture](canvas, positions) else None
