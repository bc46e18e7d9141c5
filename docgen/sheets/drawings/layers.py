"""Layers that lie on a body one on the other, drawn apart along one line: body on the left, the last one on the right.

Seen a little from the side, so that each shows its face: a gasket its opening, a pump's diaphragm its flaps, a metering
diaphragm its rivet, a strainer its rim. Outlines are as stated and in proportion; thickness is drawn, not measured.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin
from typing import NamedTuple

from docgen.sheets.drawings.canvas import INK, PAPER, THIN, TINT, Canvas, Point, circle_points
from docgen.sheets.drawings.panels import FRAME, WORD
from docgen.sheets.drawings.profiles import Shape, length, size

LAYER_KINDS = frozenset({"gasket", "diaphragm", "cover", "strainer"})
_ACROSS, _UP = 0.36, 0.2
"""How far one mm of depth goes to the right and up."""
_THICK = {"gasket": 0.9, "diaphragm": 0.5, "cover": 3.4, "strainer": 0.5, "body": 5.0}
"""Drawn thickness, mm on paper."""
_FOOT = 1.3 * WORD
_WEIGHT = 0.35


class Part(NamedTuple):
    """One part of a row: its shape (``kind`` and sizes), where its telling side looks, the face that is named.

    looks : "inwards", towards the engine, or "outwards"; empty where the words do not say
    """

    shape: Shape
    looks: str = ""
    face: str = ""

    @property
    def kind(self) -> str:
        """The kind of its shape; ``body`` for what a first layer lies on."""
        return self.shape.get("kind", "body")

    @property
    def outline(self) -> tuple[float, float, bool]:
        """Height, depth, and whether it is round, of a layer; mm."""
        if outer := length(self.shape, "outer"):
            return outer, outer, True
        return size(self.shape, "length", 50.0), size(self.shape, "width", 40.0), False


class _View(NamedTuple):
    """The canvas with where the middle line is and the scale."""

    canvas: Canvas
    middle: float
    scale: float

    def at(self, x: float, u: float, v: float) -> Point:
        """A point of a face that stands at x: u mm into the depth, v mm up."""
        return (x + self.scale * _ACROSS * u, self.middle - self.scale * (v + _UP * u))

    def ring(self, x: float, high: float, deep: float, round_: bool = True) -> list[Point]:
        """An outline: an ellipse, or a rectangle with its corners off."""
        if round_:
            return [self.at(x, deep / 2 * u, high / 2 * v) for u, v in circle_points((0, 0), 1, 40)]
        c, h, d = 0.12 * min(high, deep), high / 2, deep / 2
        corners = [(-d, -h + c), (-d + c, -h), (d - c, -h), (d, -h + c)]
        return [self.at(x, u, v) for u, v in (*corners, *((-u, -v) for u, v in corners))]


def layers_picture(layers: Sequence[Part], title: str, high: float = FRAME[1]) -> str:
    """The layers of one side with their numbers in fitting order, on a body without one; at most ``high`` mm."""
    body = {key: value for key, value in layers[0].shape.items() if key in ("outer", "length", "width")}
    row = [Part(body), *layers]
    tallest = max(tall + _UP * deep for tall, deep, _ in (layer.outline for layer in row))
    scale = (high - _FOOT - 1.0) / tallest
    while True:
        # From one layer to the next so far apart that most of each is seen.
        steps = [
            _THICK[a.kind] + 3.0 + 0.85 * scale * _ACROSS * (a.outline[1] + b.outline[1]) / 2 for a, b in pairwise(row)
        ]
        first, last = (scale * _ACROSS * one.outline[1] / 2 + 1.0 for one in (row[0], row[-1]))
        needed = sum(steps) + first + last + _THICK[row[-1].kind] + 3.0
        if needed <= FRAME[0]:
            break
        scale *= 0.97
    spare = min((FRAME[0] - needed) / len(steps), 3.0)
    middle = scale * tallest / 2 + 0.5
    canvas = Canvas(needed + spare * len(steps), 2 * middle + _FOOT, title)
    view, x = _View(canvas, middle, scale), first
    canvas.line((0.5, middle), (canvas.width - 0.5, middle), THIN, "5 1.2 1 1.2")
    for n, (layer, step) in enumerate(zip(row, (*steps, 0.0), strict=True)):
        _layer(view, x, layer)
        if n:
            canvas.text((x + _THICK[layer.kind] / 2, 2 * middle + 0.6 * WORD), str(n), WORD)
        x += step + spare
    return canvas.svg()


def _layer(view: _View, x: float, layer: Part) -> None:
    """One layer; what it has on its face is drawn on the side that is seen."""
    high, deep, round_ = layer.outline
    canvas, face, inwards = view.canvas, x + _THICK[layer.kind], layer.looks == "inwards"
    riveted = layer.kind == "diaphragm" and layer.looks != ""
    if riveted:  # the rivet's long end towards the body or away from it, so long that it stands out behind
        reach = view.scale * _ACROSS * deep / 2 + 3.4 if inwards else 1.4
        canvas.rectangle(x - reach, view.middle - 0.8, reach, 1.6, THIN, INK if inwards else PAPER)
    _plate(view, x, face, layer)

    def opening(at: float, share: float, weight: float, fill: str, *, as_round: bool = round_) -> None:
        canvas.polygon(view.ring(at, share * high, share * deep, as_round), weight, fill)

    match layer.kind:
        case "gasket":
            inner = length(layer.shape, "inner")
            opening(face, inner / high if inner else 0.72, _WEIGHT, PAPER)
        case "body":
            opening(face, 0.7, _WEIGHT, PAPER)
            opening(face - 1.5, 0.2, THIN, TINT)
        case "cover":
            opening(face, 0.3, THIN, TINT, as_round=True)
            opening(face, 0.08, 0, INK, as_round=True)
        case "strainer":  # a fine sieve with a rim that stands up on one side
            for share in (-0.5, -0.17, 0.17, 0.5):
                reach = (1 - share**2) ** 0.5
                for a, b in (((share, -reach), (share, reach)), ((-reach, share), (reach, share))):
                    ends = [view.at(face, u * deep / 2, v * high / 2) for u, v in (a, b)]
                    canvas.line(ends[0], ends[1], 0.18)
            for where in (face, x - 1.6 if inwards else face + 1.6):
                canvas.polygon(view.ring(where, high, deep), _WEIGHT, "none")
        case _ if riveted:
            canvas.polygon(view.ring(face, 14.0, 14.0), THIN, TINT)
            canvas.rectangle(face, view.middle - 0.8, 1.4 if inwards else 5.2, 1.6, THIN, PAPER if inwards else INK)
        case _ if not round_:  # the two valves of a pump's diaphragm: tongues cut out on three sides
            half, foot, tip = 0.1 * high, -0.22 * deep, 0.04 * deep
            turns = [pi / 2 - pi * n / 12 for n in range(13)]
            for middle in (0.2 * high, -0.2 * high):
                end = [(tip + half * cos(a), middle + half * sin(a)) for a in turns]
                tongue = [(foot, middle + half), *end, (foot, middle - half)]
                canvas.polyline([view.at(face, u, v) for u, v in tongue], 0.45)


def _plate(view: _View, x: float, face: float, layer: Part) -> None:
    back, front = view.ring(x, *layer.outline), view.ring(face, *layer.outline)
    fill = TINT if layer.kind in ("gasket", "body") else PAPER
    view.canvas.polygon(back, _WEIGHT, fill)
    for (a, b), (c, d) in zip(pairwise((*back, back[0])), pairwise((*front, front[0])), strict=True):
        view.canvas.polygon([a, b, d, c], 0, fill)
    if not layer.outline[2] and face - x > 1.0:
        for a, b in zip(back, front, strict=True):
            view.canvas.line(a, b, 0.18)
    for end in (min, max):
        n = end(range(len(back)), key=lambda i: back[i][1])
        view.canvas.line(back[n], front[n], _WEIGHT)
    view.canvas.polygon(front, _WEIGHT, fill)
