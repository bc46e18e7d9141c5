"""Round parts in section: the half above the axis of their shaft; x runs along it, r away from it, in mm.

A profile, from ``templates/drawings/profiles.svg``, lies with its telling side (chamfer, marked face, shoulder, lip,
hollow side) at x = 0, facing left, and is stretched between bore and rim to its part. By itself a part is drawn thicker
than it is where it is thin, and its chamfer larger: a picture of which way round, not a drawing to measure from.

On their shaft, with x away from the engine, parts are drawn from their stated sizes, each at its place. Shafts, nuts
and rollers are not hatched, as is the habit of ISO 128 (from memory). Sizes that nobody states (wall of a web, depth of
a tooth, room for a nut) are assumed, and named here.
"""

from collections.abc import Callable, Mapping
from math import cos, pi, sin, sqrt

from docgen.sheets.drawings.art import outlines, pictures
from docgen.sheets.drawings.canvas import INK, PAPER, SHADE, Canvas, Point, circle_points
from docgen.trade.quantity import parse_quantity

Shape = Mapping[str, str]

OUTER, THICK = 13.0, 14.0
"""Radius at which a part by itself has its outer edge, and the most that is drawn of its thickness; mm."""
_BORE = 5.5
"""Radius of the bores in the file, where rims are at OUTER; mm."""
_AS_THICK = ("washer", "rim-washer", "bearing")
"""Kinds that are drawn as thick as they are."""
OUTSIDE, FINE = 0.45, 0.25
"""Weights of outlines of large parts, and of small ones, on their shaft; mm."""
TOOTH, CORNER = 2.8, 2 / sqrt(3)
"""Depth of a sprocket's tooth, mm, assumed; a hexagon's corners over its flats."""
TAPER = 0.05
"""How much the radius grows along a hub's seat, assumed: a taper of 1 in 10."""


def length(shape: Shape, key: str) -> float | None:
    """A stated size in mm, or None."""
    return float(parse_quantity(shape[key], "length").exactly("mm")) if key in shape else None


def profiled(kind: str) -> bool:
    """Whether a kind of part has a profile."""
    return _named(kind) in pictures("profiles")


def drawn(shape: Shape, kind: str) -> tuple[float, float]:
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

    pictures("profiles")[_named(kind)].draw(canvas.bent(stretched), *when)


def _named(kind: str) -> str:
    return "gear" if kind == "sprocket" else kind


def _width(kind: str) -> float:
    shapes = [outlines(given["d"]) for _, given in pictures("profiles")[_named(kind)].shapes() if "d" in given]
    return max(x for shape in shapes for points, _ in shape for x, _ in points)


def size(shape: Shape, key: str, other: float) -> float:
    """A stated size, or another where it is not stated, mm."""
    return length(shape, key) or other


class Section:
    """The half above an axis; ``at`` is the axis on the canvas where x is 0, ``scale`` mm as drawn for each mm.

    left_out : between which radii everything is left out, as behind a break line; none of it where both are the same
    """

    BREAK = 1.6
    """Room of the break itself, mm as drawn."""

    def __init__(self, canvas: Canvas, at: Point, scale: float, left_out: tuple[float, float] = (0.0, 0.0)) -> None:
        self._from, self._to = left_out
        self._gap = self.BREAK / scale if self._to > self._from else 0.0
        self._flat = canvas.within(at, scale)
        self.above = self._flat.bent(self._at_radius)

    def _at_radius(self, point: Point) -> Point:
        """A point of the section on its canvas, before scaling."""
        x, r = point
        return (x, -r if r <= self._from else -max(self._from, r - self._to + self._from + self._gap))

    def broken(self, left: float, right: float) -> None:
        """The break across everything between two places along the shaft."""
        low, gap, count = -self._from, self._gap, 9
        xs = [left + (right - left) * n / count for n in range(count + 1)]
        lower = [(x, low - (0.3 * gap if n % 2 else 0.0)) for n, x in enumerate(xs)]
        upper = [(x, y - 0.7 * gap) for x, y in lower]
        self._flat.polygon([*lower, *reversed(upper)], 0, PAPER)
        for edge in (lower, upper):
            self._flat.polyline(edge, FINE)


def _box(left: float, right: float, low: float, high: float) -> list[Point]:
    return [(left, low), (left, high), (right, high), (right, low)]


def washer(canvas: Canvas, left: float, shape: Shape, chamfer: str, rim: bool = False) -> None:
    """A washer; its chamfer, in the bore or at the ``rim``, looks "inwards" or "outwards", or is not drawn."""
    right, low, high = left + size(shape, "thick", 2.0), size(shape, "inner", 10.0) / 2, size(shape, "outer", 20.0) / 2
    c = min(length(shape, "chamfer") or 0.0, right - left)
    points = _box(left, right, low, high)
    if c and chamfer:
        side, sign = (left, 1) if chamfer == "inwards" else (right, -1)
        corner, up = ((side, high), -1) if rim else ((side, low), 1)
        cut = [(side + sign * c, corner[1]), (side, corner[1] + up * c)]
        at = points.index(corner)
        points[at : at + 1] = cut if at in (0, 2) else cut[::-1]
    canvas.hatched(points, 0.7, 1, FINE)


def o_ring(canvas: Canvas, left: float, shape: Shape, bore: float) -> None:
    """An O-ring on a shaft of radius ``bore``."""
    cord = size(shape, "thick", 2.0) / 2
    canvas.polygon(circle_points((left + cord, bore + cord), cord, 32), FINE, INK)


def drum(canvas: Canvas, left: float, end: float, shape: Shape, bore: float, sprocket: Shape) -> None:
    """A cup, open towards the engine: rim, web, and the boss that runs on the bearing, with its sprocket outside.

    left, end : of the boss; the web's inner face lies at ``left``, its wall is as thick as the rim's
    """
    high, inside = size(shape, "outer", 80.0) / 2, size(shape, "inner", 74.0) / 2
    wall = high - inside
    rim, web = left + wall - size(shape, "length", 30.0), left + wall
    top = size(sprocket, "outer", 0.0) / 2
    root = top - TOOTH if top else bore + wall
    face = end - 0.8
    foot = face - size(sprocket, "thick", 5.0)
    teeth = [(foot, root), (foot, top - 0.8), (foot + 1.2, top), (face - 1.2, top), (face, top - 0.8), (face, root)]
    boss = [*(teeth if top else []), (end, root), (end, bore), (left, bore)]
    canvas.hatched([(left, inside), (rim, inside), (rim, high), (web, high), (web, root), *boss], 1.1, -1, OUTSIDE)


def hub(canvas: Canvas, right: float, shape: Shape, nut_shape: Shape) -> None:
    """A hub with its shoes: body on the shaft, room for its own nut, a shoe with its lining (dark)."""
    bore, high = size(shape, "inner", 18.0) / 2, size(shape, "outer", 70.0) / 2
    left, deep = right - size(shape, "length", 25.0), size(nut_shape, "thick", 0.0)
    room = size(nut_shape, "outer", 0.0) / 2 * CORNER + 0.8
    body, taper = 0.55 * high, TAPER * (right - left - deep)
    recess = [(right - deep, bore), (right - deep, room), (right, room)] if deep else [(right, bore)]
    canvas.hatched([(left, bore + taper), (left, body), (right, body), *reversed(recess)], 1.5, 1, OUTSIDE)
    shoe, lining = (left + 2.0, right - 2.0), high - 2.4
    canvas.hatched(_box(*shoe, body + 0.8, lining), 1.5, -1, OUTSIDE)
    canvas.polygon(_box(*shoe, lining, high), OUTSIDE, SHADE)


def shaft(
    canvas: Canvas, hub_end: float, hub_bore: float, step: float, end: float, tip: float, shape: Shape, thread: float
) -> None:
    """A stepped shaft: taper under the hub, thread of the hub's nut, radius, journal, thread of the outer nut.

    hub_end, hub_bore : where the hub begins, and its bore, 0 without one; step : where its own nut's thread begins
    end, tip          : of the journal, of the outer thread; thread : radius of that thread
    """
    thick, thin, radius = size(shape, "outer", 16.0) / 2, size(shape, "inner", 14.0) / 2, length(shape, "radius") or 0.0
    taper = TAPER * (step - hub_end) if hub_bore else 0.0
    seat = hub_bore or thick
    arc = [(radius - radius * cos(a), thin + radius - radius * sin(a)) for a in (pi / 2 * n / 8 for n in range(9))]
    over = [(hub_end - 4, seat + taper), (hub_end, seat + taper), (step, seat), (step, thick), (0, thick)]
    outside = [(end, thin), (end, thread), (tip - 1, thread), (tip, thread - 1), (tip, 0)]
    canvas.polygon([(hub_end - 4, 0), *over, *arc, *outside], OUTSIDE)
    for a, b, r in ((step, 0.0, thick), (end, tip - 1, thread)):
        canvas.line((a, 0.87 * r), (b, 0.87 * r), FINE)
