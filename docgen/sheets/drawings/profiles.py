"""Round parts in section: the half above the shaft's axis, as polygons.

A profile lies with its telling side (chamfer, marked face, shoulder, lip, hollow side) at x = 0, facing left. x runs
along the shaft, r away from it; both in mm as drawn. Radial sizes are in proportion to the stated ones; thin parts
are drawn thicker than they are, and chamfers larger, so that they can be seen: a picture of which way round, not a
drawing to measure from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from docgen.sheets.drawings.canvas import Point, circle_points

OUTER = 13.0
"""Radius at which the part's outer edge is drawn, mm."""


@dataclass(frozen=True)
class Sizes:
    """Drawn sizes, mm: radius of the bore, outer radius, thickness, chamfer."""

    bore: float
    outer: float
    thick: float
    chamfer: float


@dataclass(frozen=True)
class Profile:
    """What a part looks like in section.

    cut    : polygons that are cut through, hatched
    plain  : closed shapes that are not (a ball, a spring)
    bold   : lines that show the telling side (a marked face)
    width  : mm along the shaft
    """

    cut: tuple[tuple[Point, ...], ...]
    width: float
    plain: tuple[tuple[Point, ...], ...] = ()
    bold: tuple[tuple[Point, Point], ...] = ()


def length(shape: Mapping[str, str], key: str) -> float | None:
    """A stated size in mm, or None."""
    found = re.match(r"\s*([0-9.]+)\s*(mm|cm|in)?", shape.get(key, ""))
    return float(found[1]) * {"cm": 10.0, "in": 25.4}.get(found[2] or "", 1.0) if found else None


def sizes(shape: Mapping[str, str], thick: float) -> Sizes:
    """Drawn sizes from stated ones; ``thick`` is the thickness as drawn when none is stated or it is too thin."""
    outer, inner = length(shape, "outer") or 20.0, length(shape, "inner") or 10.0
    scale = OUTER / (outer / 2)
    bore = min(max(inner / 2 * scale, 2.5), 5.5)
    stated = (length(shape, "thick") or 0.0) * scale
    drawn = min(max(stated, thick), 14.0)
    chamfer = min(max((length(shape, "chamfer") or 0.0) * scale, 3.2), drawn * 0.6, (OUTER - bore) * 0.6)
    return Sizes(bore, OUTER, drawn, chamfer)


def washer(s: Sizes) -> Profile:
    """A flat washer whose bore is chamfered on the left."""
    return Profile(
        (((s.chamfer, s.bore), (0, s.bore + s.chamfer), (0, s.outer), (s.thick, s.outer), (s.thick, s.bore)),),
        s.thick,
    )


def rim_washer(s: Sizes) -> Profile:
    """A flat washer whose outer edge is chamfered on the left."""
    return Profile(
        (((0, s.bore), (0, s.outer - s.chamfer), (s.chamfer, s.outer), (s.thick, s.outer), (s.thick, s.bore)),),
        s.thick,
    )


def dished(s: Sizes) -> Profile:
    """A dished (conical spring) washer whose hollow side is on the left."""
    lift, thick = 4.0, 2.2
    return Profile((((0, s.outer), (lift, s.bore), (lift + thick, s.bore), (thick, s.outer)),), lift + thick)


def o_ring(s: Sizes) -> Profile:
    """An O-ring."""
    radius = (s.outer - s.bore) / 2 if s.outer - s.bore < 6 else 2.6
    return Profile((tuple(circle_points((radius, s.bore + radius), radius)),), 2 * radius)


def bearing(s: Sizes) -> Profile:
    """A ball bearing whose marked face is on the left."""
    width = max(s.thick, 8.0)
    ring = (s.outer - s.bore) * 0.3
    ball = tuple(circle_points((width / 2, (s.bore + s.outer) / 2), (s.outer - s.bore) * 0.26))
    inner = ((0.0, s.bore), (0.0, s.bore + ring), (width, s.bore + ring), (width, s.bore))
    outer = ((0.0, s.outer - ring), (0.0, s.outer), (width, s.outer), (width, s.outer - ring))
    return Profile(
        (inner, outer), width, (ball,), (((0, s.bore), (0, s.bore + ring)), ((0, s.outer - ring), (0, s.outer)))
    )


def needle_bearing(s: Sizes) -> Profile:
    """A needle bearing whose marked end is on the left: rollers, longer than wide, between the ends of their cage."""
    width, end, high = 15.0, 2.0, s.bore + 3.6
    ends = [
        ((a, s.bore + 0.5), (a, high - 0.5), (a + end, high - 0.5), (a + end, s.bore + 0.5)) for a in (0.0, width - end)
    ]
    roller = ((end, s.bore), (end, high), (width - end, high), (width - end, s.bore))
    return Profile(tuple(ends), width, (roller,), (((0, s.bore + 0.5), (0, high - 0.5)),))


def sleeve(s: Sizes) -> Profile:
    """A collar: a long tube with its chamfered end on the left."""
    width, wall = 14.0, max((s.outer - s.bore) * 0.5, 3.0)
    return Profile(
        (
            (
                (s.chamfer * 0.7, s.bore),
                (0, s.bore + s.chamfer * 0.7),
                (0, s.bore + wall),
                (width, s.bore + wall),
                (width, s.bore),
            ),
        ),
        width,
    )


def sprocket(s: Sizes) -> Profile:
    """A sprocket or gear whose shoulder is on the left."""
    shoulder = s.bore + (s.outer - s.bore) * 0.4
    return Profile(
        (
            (
                (0, s.bore),
                (0, shoulder),
                (4.5, shoulder),
                (4.5, s.outer - 1.6),
                (5.7, s.outer),
                (7.3, s.outer),
                (8.5, s.outer - 1.6),
                (8.5, s.bore),
            ),
        ),
        8.5,
    )


def drum(s: Sizes) -> Profile:
    """A clutch drum, open on the left."""
    return Profile(
        (((0, s.outer - 2), (0, s.outer), (14, s.outer), (14, s.bore), (11.4, s.bore), (11.4, s.outer - 2)),), 14.0
    )


def nut(s: Sizes) -> Profile:
    """A nut whose flange is on the left."""
    edge = s.bore + (s.outer - s.bore) * 0.6
    return Profile(
        (((0, s.bore), (0, s.outer), (2.2, s.outer), (2.2, edge), (10, edge), (11, edge - 1.2), (11, s.bore)),), 11.0
    )


def lip_seal(s: Sizes) -> Profile:
    """A shaft seal: its open side, with the lip and the spring, is on the left."""
    case = (
        (0.0, s.outer - 2.2),
        (0.0, s.outer),
        (9.0, s.outer),
        (9.0, s.bore + 1.4),
        (7.0, s.bore + 1.4),
        (7.0, s.outer - 2.2),
    )
    lip = ((7.0, s.bore + 3.8), (7.0, s.bore + 1.4), (2.2, s.bore), (0.6, s.bore + 1.5), (2.0, s.bore + 2.6))
    return Profile((case, lip), 9.0, (tuple(circle_points((1.9, s.bore + 3.7), 1.1)),))


def circlip(s: Sizes) -> Profile:
    """A circlip whose sharp edge is on the left; the other edge is rounded."""
    top = s.bore + (s.outer - s.bore) * 0.55
    return Profile(
        (
            (
                (0, s.bore - 1.2),
                (0, top),
                (1.6, top),
                (2.6, top - 0.5),
                (3, top - 1.5),
                (3, s.bore + 0.3),
                (2.6, s.bore - 0.7),
                (1.6, s.bore - 1.2),
            ),
        ),
        3.0,
    )


PROFILES: dict[str, tuple[Callable[[Sizes], Profile], float]] = {
    "washer": (washer, 7.0),
    "dished-washer": (dished, 5.0),
    "o-ring": (o_ring, 5.0),
    "bearing": (bearing, 8.0),
    "needle-bearing": (needle_bearing, 8.0),
    "drum": (drum, 8.0),
    "gear": (sprocket, 8.0),
    "sprocket": (sprocket, 8.0),
    "nut": (nut, 8.0),
    "seal": (lip_seal, 8.0),
    "circlip": (circlip, 3.0),
    "sleeve": (sleeve, 10.0),
}
"""Each kind of round part: its profile, and the thickness at which it is drawn at least."""
