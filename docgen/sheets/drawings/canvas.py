"""A small SVG canvas in millimetres: lines of three weights, hatching, arrows, figures.

Line weights follow the 2 : 1 habit of ISO 128 (from memory): outline, thin, hatching.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from html import escape
from math import atan2, cos, hypot, pi, sin

from markupsafe import Markup

Point = tuple[float, float]
OUTLINE, THIN, HATCH = 0.6, 0.3, 0.18
INK, PAPER, TINT, SHADE = "#000", "#fff", "#e4e4e4", "#a8a8a8"
"""Lines and letters; what is bare; what is there; what has another colour, as heat or oil leaves it."""


def number(value: float) -> str:
    """A coordinate, at a thousandth of a millimetre."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def circle_points(centre: Point, radius: float, count: int = 48) -> list[Point]:
    """A circle as a polygon, to be hatched."""
    return [
        (centre[0] + radius * cos(2 * pi * n / count), centre[1] + radius * sin(2 * pi * n / count))
        for n in range(count)
    ]


def hatch_lines(polygon: Sequence[Point], spacing: float, slope: int = 1) -> list[tuple[Point, Point]]:
    """The parts of evenly spaced 45-degree lines that lie inside a polygon (even-odd rule).

    slope is 1 (rising to the right) or -1. The lines keep one common origin, so that neighbouring polygons of one
    part are hatched alike.
    """

    def offset(p: Point) -> float:
        return p[1] + slope * p[0]

    low, high = min(map(offset, polygon)), max(map(offset, polygon))
    step = spacing * 2**0.5
    found: list[tuple[Point, Point]] = []
    n = int(low // step) + 1
    while (level := n * step) < high:
        n += 1
        crossings: list[Point] = []
        for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
            u, v = offset(a) - level, offset(b) - level
            if (u < 0) != (v < 0):
                t = u / (u - v)
                crossings.append((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])))
        crossings.sort()
        found += [(a, b) for a, b in zip(crossings[::2], crossings[1::2], strict=True)]
    return found


_EACH = {"M": 2, "L": 2, "H": 1, "V": 1, "Q": 4, "C": 6, "A": 7, "Z": 0}


def commands(d: str) -> Iterator[tuple[str, list[float]]]:
    """A path's commands one by one with their figures, as absolute M, L, Q, C, A and Z.

    Errors: ValueError for a command that is none of these, H or V, large or small.

    >>> list(commands("m1 2h3L.5-1z"))
    [('M', [1.0, 2.0]), ('L', [4.0, 2.0]), ('L', [0.5, -1.0]), ('Z', [])]
    """
    x = y = 0.0
    start = (x, y)
    for command, rest in re.findall(r"([a-df-zA-DF-Z])([^a-df-zA-DF-Z]*)", d):
        name, figures = command.upper(), [float(one) for one in re.findall(r"-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?", rest)]
        if name not in _EACH:
            raise ValueError(f'a drawing\'s path has no "{command}": {d}')
        for n in range(0, max(len(figures), 1), _EACH[name] or 1):
            values = figures[n : n + _EACH[name]]
            if command.islower():
                origin = {"H": [x], "V": [y], "A": [0.0] * 5 + [x, y]}.get(name, [x, y] * 3)
                values = [value + own for value, own in zip(values, origin, strict=False)]
            if name in "HV":
                values = [values[0], y] if name == "H" else [x, values[0]]
            x, y = values[-2:] or start
            start = (x, y) if name == "M" else start
            yield ("L" if name in "HV" or (name == "M" and n) else name), values


class Canvas:
    """Collects shapes; ``svg()`` gives the finished drawing.

    width, height : mm, also the view box
    title         : the alternative text
    """

    def __init__(self, width: float, height: float, title: str) -> None:
        self.width, self.height, self.title = width, height, title
        self._shapes: list[str] = []
        self._scale, self._origin = 1.0, (0.0, 0.0)
        self.to: Callable[[Point], Point] = lambda point: point

    def within(self, at: Point, scale: float) -> Canvas:
        """The same drawing with its origin elsewhere and its lengths scaled; pens, hatching and letters keep theirs."""
        inner = self.bent(lambda point: (at[0] + scale * point[0], at[1] + scale * point[1]))
        inner._scale, inner._origin = self._scale * scale, self.to(at)
        return inner

    def bent(self, place: Callable[[Point], Point]) -> Canvas:
        """The same drawing where ``place`` says where each corner goes first; circles stay round, as large as up."""
        inner, outer = Canvas(self.width, self.height, self.title), self.to
        inner._shapes, inner._scale, inner._origin = self._shapes, self._scale, self._origin
        inner.to = lambda point: outer(place(point))
        return inner

    def _placed(self, points: Iterable[Point]) -> str:
        return " ".join(f"{number(x)},{number(y)}" for x, y in map(self.to, points))

    def _add(self, tag: str, weight: float, fill: str, dash: str = "", **attributes: str) -> None:
        pen = f'stroke="{INK}" stroke-width="{number(weight)}"' if weight else ""
        given = " ".join(f'{name}="{value}"' for name, value in attributes.items())
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self._shapes.append(f'<{tag} {given} fill="{fill}" {pen}{dashed}/>'.replace("  ", " "))

    def line(self, a: Point, b: Point, weight: float = THIN, dash: str = "") -> None:
        """A straight line."""
        (x1, y1), (x2, y2) = self.to(a), self.to(b)
        self._add("line", weight, "none", dash, x1=number(x1), y1=number(y1), x2=number(x2), y2=number(y2))

    def polygon(self, points: Sequence[Point], weight: float = OUTLINE, fill: str = PAPER, dash: str = "") -> None:
        """A closed shape."""
        self._add("polygon", weight, fill, dash, points=self._placed(points))

    def polyline(self, points: Sequence[Point], weight: float = OUTLINE) -> None:
        """An open shape."""
        self._add("polyline", weight, "none", points=self._placed(points))

    def rectangle(
        self, x: float, y: float, width: float, height: float, weight: float = OUTLINE, fill: str = PAPER,
        radius: float = 0, dash: str = "",
    ) -> None:  # fmt: skip
        """An upright rectangle."""
        (ax, ay), (bx, by) = self.to((x, y)), self.to((x + width, y + height))
        size = {"width": number(abs(bx - ax)), "height": number(abs(by - ay)), "rx": number(radius * self._scale)}
        self._add("rect", weight, fill, dash, x=number(min(ax, bx)), y=number(min(ay, by)), **size)

    def circle(self, centre: Point, radius: float, weight: float = OUTLINE, fill: str = PAPER, dash: str = "") -> None:
        """A circle."""
        (x, y), (_, top) = self.to(centre), self.to((centre[0], centre[1] - radius))
        self._add("circle", weight, fill, dash, cx=number(x), cy=number(y), r=number(abs(y - top)))

    def path(self, d: str, weight: float = OUTLINE, fill: str = "none", dash: str = "") -> None:
        """A path in SVG's own terms, of M, L, H, V, Q, C, A and Z."""
        found = []
        for command, values in commands(d):
            if command == "A":
                rx, ry, turn, large, sweep, x, y = values
                values = [rx * self._scale, ry * self._scale, turn, large, sweep, *self.to((x, y))]
            else:
                values = [v for x, y in zip(values[::2], values[1::2], strict=True) for v in self.to((x, y))]
            found.append(command + " ".join(map(number, values)))
        self._add("path", weight, fill, dash, d="".join(found))

    def hatched(self, polygon: Sequence[Point], spacing: float = 1.3, slope: int = 1, weight: float = OUTLINE) -> None:
        """A cut surface."""
        self.polygon(polygon, 0, PAPER)
        left, top = self._origin
        lines = hatch_lines([(x - left, y - top) for x, y in map(self.to, polygon)], spacing, slope)
        if lines:
            ends = [(left + x, top + y) for line in lines for x, y in line]
            d = "".join(f"{'L' if n % 2 else 'M'}{number(x)} {number(y)}" for n, (x, y) in enumerate(ends))
            self._add("path", HATCH, "none", d=d)
        self.polygon(polygon, weight, "none")

    def arrow(self, a: Point, b: Point, weight: float = 1.2, head: float = 4.0) -> None:
        """A solid arrow from a to b."""
        length, at = _way(a, b)
        head, w = min(head / self._scale, length), weight / 2 / self._scale
        neck, h = length - head, head * 0.5
        self.polygon([at(0, -w), at(neck, -w), at(neck, -h), at(length, 0), at(neck, h), at(neck, w), at(0, w)], 0, INK)

    def bar(self, a: Point, b: Point, weight: float, fill: str = INK) -> None:
        """A straight bar from a to b, filled."""
        (length, at), w = _way(a, b), weight / 2
        self.polygon([at(0, w), at(length, w), at(length, -w), at(0, -w)], 0, fill)

    def gap(self, a: Point, b: Point) -> None:
        """A double arrow from a to b; where they are too near for it, two arrows that point at them from outside."""
        length = hypot(b[0] - a[0], b[1] - a[1])
        x, y = ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length else (0.0, 1.0)
        far = length / 2 if length > 6 else -6.0
        self.arrow((a[0] + far * x, a[1] + far * y), a, 0.8, 2.6)
        self.arrow((b[0] - far * x, b[1] - far * y), b, 0.8, 2.6)

    def text(
        self, where: Point, text: str, size: float, *, anchor: str = "middle", fill: str = INK, bold: bool = True
    ) -> None:
        """A short text; ``where`` is the middle of its capitals' height."""
        weight = ' font-weight="700"' if bold else ""
        x, y = self.to(where)
        self._shapes.append(
            f'<text x="{number(x)}" y="{number(y + 0.334 * size)}" font-family="Body" '
            f'font-size="{number(size)}" text-anchor="{anchor}" fill="{fill}"{weight}>{escape(text)}</text>'
        )

    def svg(self, *, sized: bool = True) -> Markup:
        """The drawing; ``sized`` gives it its size in mm, otherwise it fills its box."""
        size = f'width="{number(self.width)}mm" height="{number(self.height)}mm" ' if sized else ""
        return Markup(
            f'<svg xmlns="http://www.w3.org/2000/svg" {size}viewBox="0 0 {number(self.width)} {number(self.height)}" '
            f'role="img" font-family="Body"><title>{escape(self.title)}</title>{"".join(self._shapes)}</svg>'
        )


def _way(a: Point, b: Point) -> tuple[float, Callable[[float, float], Point]]:
    """How far it is from a to b, and the point that lies so far along that way, and so far across it."""
    angle = atan2(b[1] - a[1], b[0] - a[0])
    x, y = cos(angle), sin(angle)
    return hypot(b[0] - a[0], b[1] - a[1]), lambda along, across: (
        a[0] + along * x - across * y,
        a[1] + along * y + across * x,
    )
