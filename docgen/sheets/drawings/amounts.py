"""How much: a drop of threadlocker at its own size, and a needle bearing with enough grease and with too much."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from math import cos, pi, sin

from docgen.club.words import Words
from docgen.sheets.drawings.canvas import PAPER, SHADE, TINT, Canvas, Point
from docgen.sheets.drawings.panels import WORD, Panel, badge, crossed, panelled
from docgen.sheets.drawings.profiles import length
from docgen.trade.quantity import Quantity

LEAST, MOST = Decimal("0.03"), Decimal("0.07")
"""What counts as one drop, ml. Twenty drops make a millilitre: common practice, no source."""
BAR = 10.0
"""Length of the rule beside the drop, mm: it shows whether the sheet was printed at full size."""


def across(millilitres: Decimal) -> float:
    """The diameter of a round drop, mm: V = pi d^3 / 6.

    >>> round(across(Decimal("0.05")), 2)
    4.57
    """
    return float((6 * 1000 * float(millilitres) / pi) ** (1 / 3))


def drop_picture(amount: Quantity, title: str, words: Words) -> str | None:
    """One drop at its own size under its nozzle, three crossed out; None where the amount is not that of one drop.

    It must not be scaled.
    """
    millilitres = amount.to("ml").value
    if not LEAST <= millilitres <= MOST:
        return None
    said = (title, words("one drop, life size"), f"{BAR:g} mm", f"{words('crossed out')}: {words('too much')}")
    size, canvas = across(millilitres), Canvas(90.0, 19.4, "; ".join(said))
    canvas.polygon([(4.2, 0.4), (9.8, 0.4), (7.7, 6.4), (6.3, 6.4)], 0.4, TINT)
    canvas.circle((7.0, 6.4 + size / 2), size / 2, 0.4, SHADE)
    canvas.text((14.0, 5.0), words("one drop, life size"), WORD, anchor="start")
    canvas.line((14.0, 11.0), (14.0 + BAR, 11.0), 0.4)
    for x in (14.0, 14.0 + BAR):
        canvas.line((x, 9.6), (x, 12.4), 0.4)
    canvas.text((14.0 + BAR + 1.6, 11.0), f"{BAR:g} mm", WORD, anchor="start")
    for x, y in ((72.0, 5.0), (76.2, 7.4), (71.4, 9.8)):
        canvas.circle((x, y), size / 2, 0.4, SHADE)
    crossed(canvas, (65.0, 0.4), 17.0, 14.0)
    badge(canvas, (64.6, 17.2), good=False)
    canvas.text((67.4, 17.2), words("too much"), WORD, anchor="start")
    return canvas.svg()


def grease_picture(shape: Mapping[str, str], title: str, words: Words) -> str | None:
    """A needle bearing from its end: filled and wiped off, and standing out all round, crossed out."""
    outer, inner = length(shape, "outer"), length(shape, "inner")
    if shape.get("kind") != "needle-bearing" or not outer or not inner or inner >= outer:
        return None
    radius, bore = 10.2, 10.2 * inner / outer
    row = (
        Panel(lambda canvas: _bearing(canvas, radius, bore, []), words("filled, wiped off"), "good"),
        Panel(lambda canvas: _bearing(canvas, radius, bore, _LUMPS), words("too much"), "wrong"),
    )
    return panelled(row, _SIZE, title, words)


_SIZE = (32.0, 25.0)
_MIDDLE: Point = (16.0, 12.5)
_LUMPS = [(0.3, 2.6), (1.1, 2.0), (2.2, 2.8), (3.0, 2.2), (4.1, 3.0), (5.2, 2.4), (5.9, 2.0)]
"""Where grease stands out, as an angle, and how thick the lump is."""


def _bearing(canvas: Canvas, outer: float, inner: float, lumps: list[tuple[float, float]]) -> None:
    for turn, size in lumps:
        for where in (outer + 0.3, inner - 0.4):
            canvas.circle((_MIDDLE[0] + where * cos(turn), _MIDDLE[1] + where * sin(turn)), size, 0.3, SHADE)
    canvas.circle(_MIDDLE, outer - 0.2, 0.3 if not lumps else 0, SHADE)
    canvas.circle(_MIDDLE, inner + 0.2, 0.3, PAPER)
    for turn, size in lumps:
        where = inner - 0.4
        canvas.circle((_MIDDLE[0] + where * cos(turn), _MIDDLE[1] + where * sin(turn)), 0.8 * size, 0, SHADE)
    count = int(2 * pi * (outer + inner) / 2 / ((outer - inner) * 1.35))
    for n in range(count):
        turn, middle = 2 * pi * n / count, (outer + inner) / 2
        centre = (_MIDDLE[0] + middle * cos(turn), _MIDDLE[1] + middle * sin(turn))
        canvas.circle(centre, (outer - inner) / 2, 0.35, PAPER)
