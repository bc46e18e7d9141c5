"""Circlips of a piston pin in their groove, seen along the pin: open end up or down, and sideways crossed out."""

from __future__ import annotations

import re
from functools import partial
from math import cos, pi, sin

from docgen.sheets.drawings.canvas import OUTLINE, SHADE, Canvas, Point
from docgen.sheets.drawings.panels import Panel, panelled
from docgen.sheets.words import Words

HALF = 0.42
"""Half the opening of a circlip, as an angle."""
WAYS: dict[str, tuple[str, float]] = {"crown": ("opens-up", -pi / 2), "skirt": ("opens-down", pi / 2)}
"""What the opening may look at, with its words and its direction (up the page is less than nought)."""
SIDEWAYS = 0.0
_SIZE = (24.0, 25.0)
_BORE: Point = (12.0, 14.8)
_RADIUS = 6.8


def circlip_picture(towards: str, title: str, words: Words, *, small: bool) -> str | None:
    """The ways that the model names, ticked, and sideways, crossed out; None where it names neither crown nor skirt."""
    good = [way for word, way in WAYS.items() if re.search(rf"\b{word}\b", towards, re.IGNORECASE)]
    if not good:
        return None
    row = [Panel(partial(_piston, turn=turn), words.drawn[name], "good") for name, turn in good]
    wrong = Panel(partial(_piston, turn=SIDEWAYS), words.drawn["sideways"], "wrong")
    return panelled((*row, wrong), _SIZE, title, words, small=small)


def ring_points(turn: float, count: int = 40) -> list[Point]:
    """The circlip's outline: an open ring whose gap looks in a direction."""
    angles = [turn + HALF + n * (2 * pi - 2 * HALF) / count for n in range(count + 1)]
    x, y = _BORE
    outer = [(x + (_RADIUS - 0.3) * cos(a), y + (_RADIUS - 0.3) * sin(a)) for a in angles]
    inner = [(x + (_RADIUS - 2.1) * cos(a), y + (_RADIUS - 2.1) * sin(a)) for a in reversed(angles)]
    return [*outer, *inner]


def _piston(canvas: Canvas, turn: float) -> None:
    canvas.path("M2.4 1.2Q12 .2 21.6 1.2L21.6 24.4L15.6 24.4Q12 21.4 8.4 24.4L2.4 24.4Z", OUTLINE)
    for y in (3.6, 5.6):
        canvas.line((2.4, y), (21.6, y), 0.5)
    canvas.circle(_BORE, _RADIUS, OUTLINE, SHADE)
    canvas.polygon(ring_points(turn), 0.4)
