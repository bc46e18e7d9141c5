"""What harms, the arrow and the safety-alert triangle, drawn by us: the typeface has no such signs."""

from __future__ import annotations

import re
from functools import cache

from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import INK, PAPER, Canvas


@cache
def hazards() -> dict[str, str]:
    """What harms, by name, and what that is called."""
    return {name: one.title for name, one in pictures("symbols").items() if name not in ("arrow", "alert")}


@cache
def symbol(name: str, title: str, width: float = 20) -> str:
    """A picture on a field 20 mm high, filling the box it is put in; `title` is its alternative text."""
    canvas = Canvas(width, 20, title)
    pictures("symbols")[name].draw(canvas)
    return canvas.svg(sized=False)


@cache
def alert(sign: str, ground: str, title: str = "safety alert symbol") -> str:
    """The safety-alert symbol: a triangle in the panel's letter colour, its exclamation mark in the panel's colour."""
    colours, svg = {INK: sign, PAPER: ground}, symbol("alert", title, 22)
    return type(svg)(re.sub('(?<=fill=")#[0f]+(?=")', lambda found: colours[found[0]], svg))
