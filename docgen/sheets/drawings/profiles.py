"""Round parts in section: the half above the shaft's axis, from ``templates/drawings/profiles.svg``.

A profile lies with its telling side (chamfer, marked face, shoulder, lip, hollow side) at x = 0, facing left. x runs
along the shaft, r away from it; both in mm as drawn. Between bore and rim a profile is stretched to the part; thin
parts are drawn thicker than they are, and chamfers larger, so that they can be seen: a picture of which way round, not
a drawing to measure from.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from docgen.sheets.drawings.art import outlines, pictures
from docgen.sheets.drawings.canvas import Point, circle_points

OUTER, THICK = 13.0, 14.0
"""Radius at which the part's outer edge is drawn, and the most that is drawn of its thickness; mm."""
_BORE = 5.5
"""Radius of the bores in the file, where rims are at OUTER; mm."""
_AS_THICK = ("washer", "rim-washer", "bearing")
"""Kinds that are drawn as thick as they are."""


@dataclass(frozen=True)
class Profile:
    """What a part looks like in section.

    cut    : polygons that are cut through, hatched
    plain  : closed shapes that are not (a ball, a spring)
    bold   : lines that show the telling side (a marked face)
    width  : mm along the shaft
    """

    cut: list[list[Point]]
    plain: list[list[Point]]
    bold: list[list[Point]]
    width: float


def length(shape: Mapping[str, str], key: str) -> float | None:
    """A stated size in mm, or None."""
    found = re.match(r"\s*([0-9.]+)\s*(mm|cm|in)?", shape.get(key, ""))
    return float(found[1]) * {"cm": 10.0, "in": 25.4}.get(found[2] or "", 1.0) if found else None


def profiled(kind: str) -> bool:
    """Whether a kind of part has a profile."""
    return kind in pictures("profiles") or kind == "sprocket"


def profile(kind: str, bore: float, outer: float, thick: float = 0.0) -> Profile:
    """The profile of a kind, between these radii and as thick as this where it is drawn thinner; mm."""
    found: dict[str, list[list[Point]]] = {"cut": [], "plain": [], "bold": []}
    for _, given in pictures("profiles")["gear" if kind == "sprocket" else kind].shapes():
        if "d" in given:
            found[given["class"]] += [points for points, _ in outlines(given["d"])]
        else:
            centre = (float(given["cx"]), float(given["cy"]))
            found[given["class"]].append(circle_points(centre, float(given["r"])))
    width = max(x for points in found["cut"] for x, _ in points)
    along = max(1.0, thick / width) if kind in _AS_THICK else 1.0
    away = (outer - bore) / (OUTER - _BORE)
    for name, shapes in found.items():
        found[name] = [[(x * along, bore + (-y - _BORE) * away) for x, y in points] for points in shapes]
    return Profile(**found, width=width * along)


def drawn(kind: str, shape: Mapping[str, str]) -> tuple[Profile, float]:
    """The profile of a part by itself, and the radius at which its bore is drawn, mm."""
    outer, inner = length(shape, "outer") or 20.0, length(shape, "inner") or 10.0
    scale = OUTER / (outer / 2)
    bore = min(max(inner / 2 * scale, 2.5), 5.5)
    return profile(kind, bore, OUTER, min((length(shape, "thick") or 0.0) * scale, THICK)), bore
