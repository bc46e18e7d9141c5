"""What a pressure is held with and read on: pump, vent, gauge with its mark, and the hose to what is tested.

The black part of the dial is where the needle must not stand: beyond a ceiling, or below the mark of a leak.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, sin

from docgen.sheets.drawings.callouts import callouts
from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.panels import FRAME, WORD

DIAL: Point = (43.0, 10.8)
RADIUS = 10.2
MARK = 0.66
"""Where the mark stands on the scale, 0 its nought and 1 its end."""
AWAY = 0.14
"""How far from the mark the needle stands, on the side where it may be."""
_WIDE, _HIGH, _LINE, _VENT = 60.0, 29.6, 24.8, 30.0


def on_dial(share: float, radius: float) -> Point:
    """A place on the dial, whose scale goes from lower left over the top to lower right."""
    turn = pi * (0.75 + 1.5 * share)
    return (DIAL[0] + radius * cos(turn), DIAL[1] + radius * sin(turn))


def pressure_rig(title: str, words: Mapping[str, str], *, ceiling: str = "", leak: str = "") -> str:
    """The rig, with the one mark on its gauge that is given.

    ceiling : the pressure that is never passed
    leak    : the least that must still be held
    """
    mark = ""
    if ceiling or leak:
        mark = f"{words['ceiling']} {ceiling}" if ceiling else f"{words['leak-mark']}: {leak}"
    said = [words["pump"], words["vent"], mark]
    canvas = Canvas(FRAME[0] if mark else _WIDE, _HIGH, "; ".join([title, *filter(None, said)]))
    _pump(canvas)
    _line(canvas)
    _gauge(canvas, bool(ceiling), bool(leak))
    canvas.text((12.4, 17.4), words["pump"], WORD, anchor="start")
    canvas.text((_VENT, 28.3), words["vent"], WORD)
    callouts(canvas, _WIDE + 1.6, [(on_dial(MARK, RADIUS - 1.2), mark)] if mark else [])
    return canvas.svg()


def _pump(canvas: Canvas) -> None:
    canvas.rectangle(4.0, 11.0, 7.0, 15.0, OUTLINE, TINT, 0.8)
    canvas.line((7.5, 11.0), (7.5, 3.2), 1.4)
    canvas.line((2.4, 3.2), (12.6, 3.2), 2.0)
    canvas.rectangle(4.0, 13.6, 7.0, 1.6, THIN, INK)


def _line(canvas: Canvas) -> None:
    """The hose from the pump past vent and gauge into what is tested."""
    for x in (_VENT, DIAL[0]):
        canvas.rectangle(x - 1.0, 20.0, 2.0, _LINE - 20.0, 0.4, PAPER)
    canvas.rectangle(11.0, _LINE - 1.2, 43.0, 2.4, 0.4, PAPER)
    for x in (_VENT, DIAL[0]):
        canvas.rectangle(x - 0.8, 21.0, 1.6, _LINE - 21.0, 0, PAPER)
    canvas.rectangle(_VENT - 1.8, 18.8, 3.6, 3.4, 0.4, TINT)
    canvas.line((_VENT - 3.0, 17.6), (_VENT + 3.0, 17.6), 1.2)
    canvas.line((_VENT, 18.8), (_VENT, 17.6), 0.8)
    canvas.hatched(
        [(54, 19.4), (59.6, 19.4), (59.6, 29.4), (54, 29.4), (54, 26.4), (57, 25.8), (57, 23.8), (54, 23.2)], 1.2
    )
    canvas.arrow((46.5, _LINE), (53.6, _LINE), 0.7, 2.6)


def _gauge(canvas: Canvas, ceiling: bool, leak: bool) -> None:
    canvas.circle(DIAL, RADIUS, OUTLINE)
    for n in range(11):
        canvas.line(on_dial(n / 10, RADIUS - 1.0), on_dial(n / 10, RADIUS - 2.4), THIN)
    if ceiling or leak:
        a, b = (MARK, 1.0) if ceiling else (0.0, MARK)
        shares = [a + (b - a) * n / 24 for n in range(25)]
        outer, inner = ([on_dial(share, radius) for share in shares] for radius in (RADIUS - 0.8, RADIUS - 2.6))
        canvas.polygon([*outer, *reversed(inner)], 0, INK)
    needle = MARK + (AWAY if leak and not ceiling else -AWAY)
    canvas.line(DIAL, on_dial(needle, RADIUS - 3.2), 0.9)
    canvas.circle(DIAL, 1.1, 0, INK)
