"""Symbols and what harms, drawn by us: the typeface has no arrows, ticks or signs."""

from __future__ import annotations

import re
from functools import cache

from docgen.sheets.drawings.art import Art, pictures
from docgen.sheets.drawings.canvas import INK, PAPER, Canvas


@cache
def symbols() -> dict[str, Art]:
    """Every symbol, by its name."""
    return {name: one for name, one in pictures("symbols").items() if one.title}


@cache
def symbol(name: str, title: str = "") -> str:
    """One symbol on a 20 by 20 field, filling the box it is put in; `title` is its alternative text on a sheet."""
    return _filling(symbols()[name], title or symbols()[name].title)


@cache
def hazard(name: str, title: str) -> str:
    """What harms, on a 20 by 20 field, filling the box it is put in; `title` is its alternative text."""
    return _filling(pictures("hazards")[name], title)


@cache
def alert(sign: str, ground: str, title: str = "safety alert symbol") -> str:
    """The safety-alert symbol: a triangle in the panel's letter colour, its exclamation mark in the panel's colour."""
    colours = {INK: sign, PAPER: ground}
    svg = _filling(pictures("symbols")["alert"], title, 22)
    return type(svg)(re.sub('(?<=fill=")#[0f]+(?=")', lambda found: colours[found[0]], svg))


def _filling(art: Art, title: str, width: float = 20) -> str:
    canvas = Canvas(width, 20, title)
    art.draw(canvas)
    return canvas.svg(sized=False)
