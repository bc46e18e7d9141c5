"""Round parts in section: the half above the shaft's axis, from ``templates/drawings/profiles.svg``.

A profile lies with its telling side (chamfer, marked face, shoulder, lip, hollow side) at x = 0, facing left. x runs
along the shaft, r away from it, in mm. Between bore and rim a profile is stretched to its part. By itself a part is
drawn thicker than it is where it is thin, and its chamfer larger, so that they can be seen: a picture of which way
round, not a drawing to measure from.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from docgen.sheets.drawings.art import outlines, pictures
from docgen.sheets.drawings.canvas import Bent, Canvas, Point

OUTER, THICK = 13.0, 14.0
"""Radius at which a part by itself has its outer edge, and the most that is drawn of its thickness; mm."""
_BORE = 5.5
"""Radius of the bores in the file, where rims are at OUTER; mm."""
_AS_THICK = ("washer", "rim-washer", "bearing")
"""Kinds that are drawn as thick as they are."""


def length(shape: Mapping[str, str], key: str) -> float | None:
    """A stated size in mm, or None."""
    found = re.match(r"\s*([0-9.]+)\s*(mm|cm|in)?", shape.get(key, ""))
    return float(found[1]) * {"cm": 10.0, "in": 25.4}.get(found[2] or "", 1.0) if found else None


def profiled(kind: str) -> bool:
    """Whether a kind of part has a profile."""
    return _named(kind) in pictures("profiles")


def drawn(shape: Mapping[str, str], kind: str) -> tuple[float, float]:
    """Radius of the bore, and thickness, at which a part by itself is drawn; mm."""
    outer, inner = length(shape, "outer") or 20.0, length(shape, "inner") or 10.0
    scale, least = OUTER / (outer / 2), _width(kind)
    thick = min((length(shape, "thick") or 0.0) * scale, THICK) if kind in _AS_THICK else 0.0
    return min(max(inner / 2 * scale, 2.5), 5.5), max(thick, least)


def profile(canvas: Canvas, kind: str, radii: Point, thick: float, place: Callable[[Point], Point], *when: str) -> None:
    """Draw a profile between the radii of its bore and its rim; ``place`` says where x and r are on the canvas."""
    bore, outer = radii
    along, away = thick / _width(kind), (outer - bore) / (OUTER - _BORE)

    def stretched(point: Point) -> Point:
        return place((point[0] * along, bore + (-point[1] - _BORE) * away))

    pictures("profiles")[_named(kind)].draw(Bent(canvas, stretched), *when)


def _named(kind: str) -> str:
    return "gear" if kind == "sprocket" else kind


def _width(kind: str) -> float:
    shapes = [outlines(given["d"]) for _, given in pictures("profiles")[_named(kind)].shapes() if "d" in given]
    return max(x for shape in shapes for points, _ in shape for x, _ in points)
