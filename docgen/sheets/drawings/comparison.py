"""What is right beside what is wrong, from stated sizes: a chamfer at its shaft's radius, a drop, grease in a bearing.

A washer's chamfer is drawn over the radius of its shaft, cut open at the corner, four times as large; only the
clearance between bore and shaft is assumed. A drop is drawn at its own size.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import cos, pi, sin, sqrt

from docgen.club.words import Words
from docgen.sheets.drawings.canvas import PAPER, SHADE, TINT, Canvas, Point
from docgen.sheets.drawings.panels import WORD, Panel, badge, crossed, panelled
from docgen.sheets.drawings.profiles import length
from docgen.trade.quantity import Quantity

SCALE, CLEARANCE = 4.0, 0.05
"""Of the corner as drawn on the bench leaf; between bore and shaft, on the radius, mm, assumed."""
NEEDED = ("inner", "thick", "chamfer", "radius", "shoulder", "journal")
_CORNER_SIZE, _GREASE_SIZE = (32.0, 25.2), (32.0, 25.0)
_CORNER: Point = (15.5, 18.5)
"""Where shaft and shoulder would meet without their radius, on a panel."""
LEAST, MOST = Decimal("0.03"), Decimal("0.07")
"""What counts as one drop, ml. Twenty drops make a millilitre: common practice, no source."""
BAR = 10.0
"""Length of the rule beside the drop, mm: it shows whether the sheet was printed at full size."""
_MIDDLE: Point = (16.0, 12.5)
_LUMPS = ((0.3, 2.6), (1.1, 2.0), (2.2, 2.8), (3.0, 2.2), (4.1, 3.0), (5.2, 2.4), (5.9, 2.0))
"""Where grease stands out, as an angle, and how thick the lump is."""


def stands_off(radius: float) -> float:
    """How far a sharp bore keeps a washer off the shoulder, mm: where its edge meets the radius of the corner.

    With the corner at the origin the radius is the circle about (r, r); the edge lies CLEARANCE above the shaft.

    >>> round(stands_off(0.8), 2)
    0.52
    """
    return radius - sqrt(max(0.0, radius**2 - (radius - CLEARANCE) ** 2))


def chamfer_picture(shape: Mapping[str, str], title: str, words: Words) -> str | None:
    """The washer the right way round and the wrong way; None where a size is missing or the chamfer clears nothing.

    shape : the washer's sizes, with the shaft's ``radius``, ``shoulder`` and ``journal``
    """
    given = {key: length(shape, key) or 0.0 for key in NEEDED}
    if not all(given.values()) or given["chamfer"] < given["radius"] or given["shoulder"] <= given["journal"]:
        return None
    right = Panel(lambda canvas: _corner(canvas, given, wrong=False), words("clears the radius"), "good")
    wrong = Panel(lambda canvas: _corner(canvas, given, wrong=True), words("stands off"), "wrong")
    return panelled((right, wrong), _CORNER_SIZE, title, words)


def _corner(canvas: Canvas, given: Mapping[str, float], *, wrong: bool) -> None:
    """Shaft with shoulder and radius, what sits on the shoulder's thread, the washer against both."""
    radius, thick, chamfer = (SCALE * given[key] for key in ("radius", "thick", "chamfer"))
    high = SCALE * (given["shoulder"] - given["journal"]) / 2
    (x, y), (wide, low) = _CORNER, _CORNER_SIZE
    arc = [(x + radius - radius * cos(a), y - radius + radius * sin(a)) for a in (pi / 2 * n / 12 for n in range(13))]
    shaft = [(0.3, y - high), (x, y - high), *arc, (wide - 0.3, y), (wide - 0.3, low - 0.4), (0.3, low - 0.4)]
    canvas.hatched([(5.6, 0.3), (x, 0.3), (x, y - high), (5.6, y - high)], 1.7, -1)
    canvas.hatched(shaft, 2.4, 1)
    bore = y - SCALE * CLEARANCE
    left = x + (SCALE * stands_off(given["radius"]) if wrong else 0.0)
    right = left + thick
    edge = [(left, bore - chamfer), (left + chamfer, bore), (right, bore)]
    if wrong:
        edge = [(left, bore), (right - chamfer, bore), (right, bore - chamfer)]
    torn = [(right, 1.2), (left + 0.66 * thick, 2.6), (left + 0.33 * thick, 0.6), (left, 1.8)]
    canvas.hatched([*edge, *torn], 0.9, 1)
    if wrong:
        canvas.gap((x, 5.2), (left, 5.2))


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
    radii = (10.2, 10.2 * inner / outer)
    row = (
        Panel(lambda canvas: _bearing(canvas, *radii, ()), words("filled, wiped off"), "good"),
        Panel(lambda canvas: _bearing(canvas, *radii, _LUMPS), words("too much"), "wrong"),
    )
    return panelled(row, _GREASE_SIZE, title, words)


def _bearing(canvas: Canvas, outer: float, inner: float, lumps: Sequence[tuple[float, float]]) -> None:
    def at(radius: float, turn: float) -> Point:
        return (_MIDDLE[0] + radius * cos(turn), _MIDDLE[1] + radius * sin(turn))

    for turn, size in lumps:
        for radius in (outer + 0.3, inner - 0.4):
            canvas.circle(at(radius, turn), size, 0.3, SHADE)
    canvas.circle(_MIDDLE, outer - 0.2, 0.3 if not lumps else 0, SHADE)
    canvas.circle(_MIDDLE, inner + 0.2, 0.3, PAPER)
    for turn, size in lumps:
        canvas.circle(at(inner - 0.4, turn), 0.8 * size, 0, SHADE)
    count = int(2 * pi * (outer + inner) / 2 / ((outer - inner) * 1.35))
    for n in range(count):
        canvas.circle(at((outer + inner) / 2, 2 * pi * n / count), (outer - inner) / 2, 0.35, PAPER)
