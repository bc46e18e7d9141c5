"""Symbols, drawn by us: the typeface has no arrows, ticks or signs.

The safety-alert triangle, the prohibition circle with its bar at 45 degrees and the mandatory-action disc follow the
published geometry (ISO 3864-1, ANSI Z535.4; proportions from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from docgen.sheets.drawings.canvas import INK, PAPER, Canvas


def _tick(c: Canvas) -> None:
    c.polygon([(2.2, 10.6), (4.6, 8.2), (8, 11.6), (15.4, 3.4), (18, 5.6), (8.2, 17)], 0, INK)


def _arrow(c: Canvas) -> None:
    c.arrow((2, 10), (18, 10), 4, 8)


def _hand(c: Canvas) -> None:
    c.path(
        "M6 18.5L6 13.2L2.6 9.4Q1.8 8.2 2.9 7.6Q3.9 7.1 4.8 8L6.6 9.8L6.6 3.4Q6.7 2.2 7.8 2.2Q8.9 2.2 9 3.4L9 8.4"
        "L9.2 1.9Q9.3 .8 10.4 .8Q11.5 .8 11.6 1.9L11.6 8.4L11.9 2.6Q12 1.5 13.1 1.6Q14.1 1.7 14.1 2.8L14.1 9"
        "L14.6 4.6Q14.8 3.6 15.7 3.8Q16.6 4 16.5 5L16 13Q15.8 15 15 16.2L15 18.5Z",
        1.1,
        PAPER,
    )
    c.line((5.4, 18.6), (15.6, 18.6), 1.6)


def _clock(c: Canvas) -> None:
    c.circle((10, 10), 8.4, 1.6)
    c.polyline([(10, 4.6), (10, 10), (13.8, 12.2)], 1.6)


def _again(c: Canvas) -> None:
    points = [(10 + 7 * cos(a), 10 + 7 * sin(a)) for a in [-0.35 * pi + n * 1.6 * pi / 30 for n in range(31)]]
    c.polyline(points, 2)
    c.polygon([(9.6, -0.2), (9.6, 7.4), (15.4, 3.2)], 0, INK)


def _wrench(c: Canvas) -> None:
    c.path(
        "M13.2 1.6A5 5 0 0 0 8.3 8.4L1.8 14.9A2.4 2.4 0 0 0 5.2 18.3L11.7 11.8A5 5 0 0 0 18.4 6.8L15.2 9.3"
        "L11.5 8.5L10.7 4.8Z",
        0,
        INK,
    )


def _scissors(c: Canvas) -> None:
    c.circle((4.4, 5.2), 2.8, 1.3, "none")
    c.circle((4.4, 14.8), 2.8, 1.3, "none")
    c.line((6.6, 6.8), (18.4, 15), 1.5)
    c.line((6.6, 13.2), (18.4, 5), 1.5)


def _stop(c: Canvas) -> None:
    c.polygon([(10 + 9.6 * cos(pi / 8 + n * pi / 4), 10 + 9.6 * sin(pi / 8 + n * pi / 4)) for n in range(8)], 0, INK)
    c.polygon([(10 + 8.4 * cos(pi / 8 + n * pi / 4), 10 + 8.4 * sin(pi / 8 + n * pi / 4)) for n in range(8)], 0, PAPER)
    c.polygon([(10 + 7.6 * cos(pi / 8 + n * pi / 4), 10 + 7.6 * sin(pi / 8 + n * pi / 4)) for n in range(8)], 0, INK)
    c.rectangle(5.2, 8.4, 9.6, 3.2, 0, PAPER)


def _prohibited(c: Canvas) -> None:
    c.circle((10, 10), 8.6, 1.9)
    c.line((3.9, 3.9), (16.1, 16.1), 1.9)


def _mandatory(c: Canvas) -> None:
    c.circle((10, 10), 9.6, 0, INK)
    c.rectangle(8.8, 4, 2.4, 8, 0, PAPER, 1)
    c.circle((10, 15), 1.5, 0, PAPER)


def _paint(c: Canvas) -> None:
    c.polygon([(10 + 8 * cos(n * pi / 3), 10 + 8 * sin(n * pi / 3)) for n in range(6)], 1.3, PAPER)
    c.line((10, 10), (19.4, 3.4), 2.6)


SYMBOLS: dict[str, tuple[str, Callable[[Canvas], None]]] = {
    "tick": ("tick", _tick),
    "arrow": ("arrow", _arrow),
    "hand": ("open hand", _hand),
    "clock": ("clock", _clock),
    "again": ("arrow round in a circle", _again),
    "wrench": ("wrench", _wrench),
    "scissors": ("scissors: cut here", _scissors),
    "stop": ("stop", _stop),
    "prohibited": ("prohibited", _prohibited),
    "mandatory": ("must be done", _mandatory),
    "paint": ("paint mark over a nut", _paint),
}


def symbol(name: str, title: str = "") -> str:
    """One symbol on a 20 by 20 field, filling the box it is put in; `title` is its alternative text on a sheet."""
    own, draw = SYMBOLS[name]
    canvas = Canvas(20, 20, title or own)
    draw(canvas)
    return canvas.svg(sized=False)


def alert(sign: str, ground: str, title: str = "safety alert symbol") -> str:
    """The safety-alert symbol: a triangle in the panel's letter colour, its exclamation mark in the panel's colour."""
    canvas = Canvas(22, 20, title)
    canvas.path(
        "M11 1.2Q12 1.2 12.6 2.2L21.2 17Q22 18.8 20.2 18.9L1.8 18.9Q0 18.8 .8 17L9.4 2.2Q10 1.2 11 1.2Z", 0, sign
    )
    canvas.path("M9.5 6.4Q9.5 5.4 11 5.4Q12.5 5.4 12.5 6.4L11.8 12.8Q11.7 13.4 11 13.4Q10.3 13.4 10.2 12.8Z", 0, ground)
    canvas.circle((11, 15.8), 1.4, 0, ground)
    return canvas.svg(sized=False)
