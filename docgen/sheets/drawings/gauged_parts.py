"""Readings of plug, carburettor, reeds, chain, washers and pickup."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, sin

from docgen.sheets.drawings.canvas import OUTLINE, PAPER, SHADE, THIN, TINT, Canvas
from docgen.sheets.drawings.gauge_marks import axis, between, edge


def plug_gap(canvas: Canvas, positions: Sequence[str]) -> bool:
    """The nose of a plug: between the two electrodes."""
    canvas.rectangle(14, 1, 20, 12, OUTLINE, TINT)
    for y in (3.5, 6.0, 8.5, 11.0):
        canvas.line((14, y), (34, y), THIN)
    canvas.polygon([(19, 13), (29, 13), (27, 20), (21, 20)], OUTLINE)
    canvas.rectangle(22, 20, 4, 3.4, OUTLINE, "#000")
    canvas.polygon([(34, 13), (38, 13), (38, 31), (22, 31), (22, 27.4), (34, 27.4)], OUTLINE, TINT)
    edge(canvas, (26, 23.4), (8, 23.4))
    edge(canvas, (22, 27.4), (8, 27.4))
    between(canvas, (10, 23.4), (10, 27.4))
    return True


def plug_reach(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A plug from the side: from the gasket's seat to the end of the thread."""
    canvas.rectangle(2, 14.5, 10, 7, OUTLINE)
    canvas.rectangle(12, 10, 9, 16, OUTLINE, TINT)
    canvas.rectangle(21, 12, 2, 12, OUTLINE, "#000")
    canvas.rectangle(23, 13.5, 20, 9, OUTLINE)
    for x in (25.0 + 2 * n for n in range(9)):
        canvas.line((x, 13.5), (x, 22.5), THIN)
    canvas.polyline([(43, 15.5), (48, 15.5), (48, 18.6)], 0.9)
    for x in (23.0, 43.0):
        edge(canvas, (x, 12), (x, 32))
    between(canvas, (23, 30), (43, 30))
    return True


def reed_tip(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A reed petal on its block, edge-on: the feeler goes under its free end."""
    canvas.hatched([(3, 20), (46, 26), (46, 33), (3, 33)], 1.5, 1, OUTLINE)
    canvas.rectangle(5, 12, 8, 8.4, OUTLINE, TINT)
    canvas.polyline([(5, 19.6), (20, 21.6), (46, 22.6)], 1.2)
    edge(canvas, (46, 23.2), (51, 23.2))
    edge(canvas, (46, 26), (51, 26))
    between(canvas, (49, 23.2), (49, 26))
    return True


def chain_pitches(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A length of chain pulled tight: from the first roller to the same side of the last one counted."""
    rollers = [4.0 + 4.9 * n for n in range(10)]
    for n, x in enumerate(rollers[:-1]):
        canvas.rectangle(x - 2.0, 10.2 if n % 2 else 10.8, 8.9, 5.6 if n % 2 else 4.4, THIN, TINT, 2.2)
    for x in rollers:
        canvas.circle((x, 13), 1.7)
    canvas.rectangle(24.6, 6, 3.0, 14, 0, "#fff")
    for x in (24.6, 27.6):
        canvas.polyline([(x, 6), (x + 0.8, 9.5), (x - 0.8, 16.5), (x, 20)], THIN)
    for x in (rollers[0] - 1.7, rollers[-1] - 1.7):
        edge(canvas, (x, 13), (x, 29))
    between(canvas, (rollers[0] - 1.7, 27), (rollers[-1] - 1.7, 27))
    return True


def chain_slack(canvas: Canvas, positions: Sequence[str]) -> bool:
    """The free run of a chain between its sprockets: its whole play up and down, in the middle."""
    for x, radius in ((6.0, 5.0), (42.0, 9.0)):
        canvas.circle((x, 20), radius, OUTLINE, TINT)
        canvas.circle((x, 20), 1.4, OUTLINE)
    canvas.path("M6 25Q24 31 42 29", 0.9)
    canvas.path("M6 15Q24 19.5 42 11", 0.9)
    canvas.line((6, 15), (42, 11), THIN, "1.6 1.2")
    canvas.path("M6 15Q24 6.6 42 11", 0.5)
    between(canvas, (24, 10.0), (24, 16.4))
    return True


def straight_edge(canvas: Canvas, positions: Sequence[str]) -> bool:
    """Two sprockets from above with a straight edge along the face of one: the gap at the other."""
    canvas.hatched([(1, 9), (51, 9), (51, 12.4), (1, 12.4)], 1.2, 1, OUTLINE)
    canvas.rectangle(2, 12.4, 15, 3.6, OUTLINE, TINT)
    canvas.rectangle(28, 15.4, 22, 3.6, OUTLINE, TINT)
    canvas.line((9.5, 14.2), (39, 17.2), 1.0, "2.4 1")
    for x in (9.5, 39.0):
        axis(canvas, (x, 13), (x, 34))
    between(canvas, (45, 12.4), (45, 15.4))
    return True


def thickness(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A washer edge-on between the faces of a micrometer, at its thinnest place."""
    canvas.hatched([(23, 4), (29, 4), (29, 12), (27.8, 14), (27.8, 22), (29, 24), (29, 32), (23, 32)], 1.0, 1, OUTLINE)
    canvas.rectangle(8, 15.4, 15, 5.2, OUTLINE, TINT)
    canvas.rectangle(27.8, 15.4, 16, 5.2, OUTLINE, TINT)
    between(canvas, (23, 34), (29, 34))
    return True


def drum_float(canvas: Canvas, positions: Sequence[str]) -> bool:
    """Hub, inner washer, the cup of the drum on its needles, outer washer and nut, above the axis of their shaft.

    The feeler goes between drum and outer washer, the drum pushed inwards.
    """
    canvas.polygon([(1, 32), (1, 27), (34, 27), (34, 28.4), (49, 28.4), (50, 29.4), (50, 32)], 0.45)
    canvas.hatched([(1, 13), (9, 13), (9, 27), (1, 27)], 1.4, -1, 0.45)
    canvas.hatched([(9, 18), (11, 18), (11, 27), (9, 27)], 0.7, 1, 0.35)
    canvas.rectangle(13, 24.4, 16, 2.6, 0.35, SHADE, 0.5)
    canvas.hatched([(11, 24.4), (11, 7), (2, 7), (2, 4), (15, 4), (15, 20.6), (31, 20.6), (31, 24.4)], 1.1, -1, 0.45)
    canvas.hatched([(34, 18), (37, 18), (37, 28.4), (34, 28.4)], 0.7, 1, 0.35)
    canvas.rectangle(37, 22.6, 8, 5.8, 0.45, PAPER, 0.6)
    axis(canvas, (0.5, 32), (51, 32))
    for x in (31.0, 34.0):
        edge(canvas, (x, 22), (x, 14))
    between(canvas, (31, 15.6), (34, 15.6))
    canvas.arrow((28, 9), (16.2, 9), 1.2, 4)
    return True


def pickup(canvas: Canvas, positions: Sequence[str]) -> bool:
    """A rotor whose lobe stands before the pickup: the feeler between them."""
    centre, radius = (19.0, 18.0), 12.0
    lobe = [(centre[0] + (radius + 2.4) * cos(a), centre[1] + (radius + 2.4) * sin(a)) for a in (-0.22, 0.22)]
    foot = [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in (0.3, -0.3)]
    canvas.circle(centre, radius, OUTLINE, TINT)
    canvas.polygon([*lobe, *foot], OUTLINE, TINT)
    canvas.circle(centre, 2.4)
    canvas.hatched([(37, 12), (50, 12), (50, 24), (37, 24)], 1.4, 1, OUTLINE)
    edge(canvas, (33.1, 18), (33.1, 31))
    edge(canvas, (37, 24), (37, 31))
    between(canvas, (33.1, 29.4), (37, 29.4))
    return True


def flexible_pipe(canvas: Canvas, positions: Sequence[str]) -> bool:
    """The flexible section between flange and pipe: from edge to edge."""
    canvas.hatched([(1, 9), (8, 9), (8, 25), (1, 25)], 1.4, 1, OUTLINE)
    canvas.rectangle(40, 10, 11, 14, OUTLINE, TINT)
    for n in range(8):
        canvas.rectangle(8.6 + n * 3.9, 11 if n % 2 else 10, 3.9, 12 if n % 2 else 14, THIN)
    for x in (8.0, 40.0):
        edge(canvas, (x, 17), (x, 33))
    between(canvas, (8, 31.4), (40, 31.4))
    return True
