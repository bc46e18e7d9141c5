"""Readings of cylinder, piston, crankshaft and clutch drum."""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.sheets.drawings.canvas import OUTLINE, THIN, TINT, Canvas
from docgen.sheets.drawings.gauge_marks import axis, between, dial, edge, numbered

_HEIGHTS = ("top", "middle", "bottom")
_WAYS = ("along", "across")


def bore(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A cylinder cut open: three heights on the left; on the right from above, along and across the crankshaft."""
    places = [(_one(_HEIGHTS, text), _one(_WAYS, text)) for text in positions]
    if not places or any(height is None or way is None for height, way in places):
        return False
    for x in (1.0, 23.0):
        canvas.hatched([(x, 1), (x + 4, 1), (x + 4, 35), (x, 35)], 1.2, 1 if x < 9 else -1, THIN)
    canvas.line((5, 1), (23, 1), OUTLINE)
    canvas.line((5, 35), (23, 35), OUTLINE)
    rows = dict(zip(_HEIGHTS, (7.5, 18.0, 28.5), strict=True))
    for y in rows.values():
        between(canvas, (5, y), (23, y))
    for n, (height, way) in enumerate(places, 1):
        assert height is not None
        numbered(canvas, (10.4 if way == "along" else 17.6, rows[height]), n)
    _from_above(canvas, [(n, way or "") for n, (_, way) in enumerate(places, 1)])
    return True


def _from_above(canvas: Canvas, places: Sequence[tuple[int, str]]) -> None:
    centre, radius = (37.6, 19.0), 7.8
    canvas.circle(centre, radius + 1.5, OUTLINE, TINT)
    canvas.circle(centre, radius, OUTLINE)
    axis(canvas, (27.4, 19), (48, 19))
    between(canvas, (37.6 - radius, 19), (37.6 + radius, 19))
    between(canvas, (37.6, 19 - radius), (37.6, 19 + radius))
    along = [n for n, way in places if way == "along"]
    across = [n for n, way in places if way == "across"]
    for n, number in enumerate(across):
        numbered(canvas, (36.6 + 5.2 * (n - (len(across) - 1) / 2), 5.2), number)
    for n, number in enumerate(along):
        numbered(canvas, (49.3, 19 + 5.2 * (n - (len(along) - 1) / 2)), number)


def drum(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A clutch drum from its open side: the bore, along and across."""
    if [_one(_WAYS, text) for text in positions] != list(_WAYS[: len(positions)]) or not positions:
        return False
    centre = (26.0, 18.0)
    canvas.circle(centre, 16.4, OUTLINE, TINT)
    canvas.circle(centre, 13.6)
    canvas.circle(centre, 3.2, THIN, TINT)
    for n, (a, b, at) in enumerate(
        (((12.4, 18), (39.6, 18), (19.0, 18)), ((26, 4.4), (26, 31.6), (26, 11.0))), 1
    ):  # fmt: skip
        if n <= len(positions):
            between(canvas, a, b)
            numbered(canvas, at, n)
    return True


def shoes(canvas: Canvas, positions: Sequence[str]) -> bool:
    """The hub with its shoes at rest: over the middle of two linings that stand opposite."""
    centre = (26.0, 15.0)
    canvas.circle(centre, 12.4, OUTLINE, TINT)
    canvas.circle(centre, 9.4, OUTLINE)
    canvas.rectangle(24.9, 1.6, 2.2, 27, 0, "#fff")
    for x in (24.9, 27.1):
        for low, high in ((2.8, 5.8), (24.2, 27.2)):
            canvas.line((x, low), (x, high), OUTLINE)
    canvas.circle(centre, 6.4, OUTLINE, TINT)
    canvas.circle(centre, 2.6, OUTLINE)
    for x in (13.6, 38.4):
        edge(canvas, (x, 15), (x, 34.6))
    between(canvas, (13.6, 33.4), (38.4, 33.4))
    return True


def skirt(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A piston seen along its pin: across the pin, at a height above the skirt's lower edge."""
    canvas.rectangle(14, 2, 24, 30, OUTLINE, TINT, 1)
    for y in (5.0, 8.2):
        canvas.line((14, y), (38, y), 0.8)
    canvas.circle((26, 15), 3.6)
    axis(canvas, (26, 10), (26, 20.4))
    between(canvas, (14, 25), (38, 25))
    edge(canvas, (38, 25), (47, 25))
    edge(canvas, (38, 32), (47, 32))
    between(canvas, (45, 25), (45, 32))
    return True


def ring_gap(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A ring alone in the bore, from above; the feeler goes between its ends."""
    centre = (26.0, 18.0)
    canvas.circle(centre, 16.8, OUTLINE, TINT)
    canvas.circle(centre, 13.6)
    canvas.circle(centre, 10.2)
    canvas.rectangle(24.2, 4.9, 3.6, 3.5, 0, "#fff")
    for x in (24.2, 27.8):
        canvas.line((x, 4.5), (x, 7.9), OUTLINE)
    between(canvas, (24.2, 6.3), (27.8, 6.3))
    return True


def squish(canvas: Canvas, positions: Sequence[str]) -> bool:
    """Piston, head and solder in section, at both ends of the pin."""
    if len(positions) != 2:
        return False
    canvas.hatched([(1, 2), (51, 2), (51, 13), (40, 13), (34, 6), (18, 6), (12, 13), (1, 13)], 1.4, 1, OUTLINE)
    for x in (1.0, 47.0):
        canvas.hatched([(x, 13), (x + 4, 13), (x + 4, 35), (x, 35)], 1.2, -1, THIN)
    canvas.rectangle(5.4, 16.4, 41.2, 18.4, OUTLINE, TINT)
    canvas.circle((26, 28), 3.4)
    axis(canvas, (8, 28), (44, 28))
    for n, x in ((1, 5.6), (2, 46.4)):
        inner = x + 10 if n == 1 else x - 10
        canvas.line((x, 14.7), (inner, 14.7), 2.0)
        numbered(canvas, (x + 6 if n == 1 else x - 6, 21.6), n)
        canvas.arrow((x + 1.5 if n == 1 else x - 1.5, 22), (x + 0.6 if n == 1 else x - 0.6, 16.2), 0.8, 2.6)
    return True


def side_play(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A rod between the webs of the crankshaft, from the front: the feeler beside its big end."""
    canvas.hatched([(6, 8), (20, 8), (20, 34), (6, 34)], 1.4, 1, OUTLINE)
    canvas.hatched([(32, 8), (46, 8), (46, 34), (32, 34)], 1.4, -1, OUTLINE)
    canvas.rectangle(22.4, 1, 7.2, 32, OUTLINE, TINT)
    axis(canvas, (2, 21), (50, 21))
    between(canvas, (29.6, 12), (32, 12))
    return True


def radial_play(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A rod upright on its crank pin, pulled and pressed along its length; the dial stands on its small end."""
    canvas.circle((20, 27.4), 8, OUTLINE, TINT)
    canvas.polygon([(17.4, 23), (18, 14.6), (22, 14.6), (22.6, 23)], OUTLINE, "#fff")
    canvas.circle((20, 27.4), 4.8)
    canvas.circle((20, 27.4), 2.2, OUTLINE, TINT)
    dial(canvas, (20, 14.6))
    canvas.arrow((38, 18), (38, 8), 1.4, 4)
    canvas.arrow((38, 18), (38, 28), 1.4, 4)
    return True


def shaft_play(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A shaft end in its bearing, lifted and pressed; the dial stands on it beside the crankcase."""
    for y in (3.0, 24.0):
        canvas.hatched([(4, y), (14, y), (14, y + 9), (4, y + 9)], 1.4, 1, OUTLINE)
    canvas.rectangle(1, 14, 44, 8, OUTLINE, TINT)
    for y in (12.8, 23.2):
        canvas.circle((9, y), 1.2, OUTLINE)
    axis(canvas, (0.5, 18), (51, 18))
    dial(canvas, (22, 14))
    canvas.arrow((40, 13), (40, 4), 1.4, 4)
    canvas.arrow((40, 23), (40, 32), 1.4, 4)
    return True


def end_float(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A shaft pushed and pulled along its axis; the dial stands on its end."""
    for y in (3.0, 24.0):
        canvas.hatched([(8, y), (18, y), (18, y + 9), (8, y + 9)], 1.4, 1, OUTLINE)
    canvas.rectangle(2, 14, 32, 8, OUTLINE, TINT)
    axis(canvas, (0.5, 18), (34, 18))
    dial(canvas, (34, 18), upwards=False)
    canvas.arrow((26, 9), (36, 9), 1.4, 4)
    canvas.arrow((26, 9), (19.6, 9), 1.4, 4)
    return True


def run_out(canvas: Canvas, positions: Sequence[str]) -> bool:
    """Both ends of a shaft that turns in its bearings, a dial on each."""
    if len(positions) != 2:
        return False
    canvas.rectangle(1, 20, 50, 6, OUTLINE, TINT)
    canvas.rectangle(20, 13, 12, 20, OUTLINE, TINT)
    for x in (14.0, 34.0):
        canvas.hatched([(x, 26), (x + 4, 26), (x + 4, 34), (x, 34)], 1.2, 1, THIN)
        canvas.hatched([(x, 12), (x + 4, 12), (x + 4, 20), (x, 20)], 1.2, 1, THIN)
    for n, x in ((1, 6.0), (2, 46.0)):
        dial(canvas, (x, 20))
        numbered(canvas, (x, 30), n)
    return True


def _one(words: Sequence[str], text: str) -> str | None:
    found = [word for word in words if re.search(rf"\b{word}\b", text)]
    return found[0] if len(found) == 1 else None
