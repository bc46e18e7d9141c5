"""The height of the metering lever: straight edge over its chamber, feeler, and the end that the diaphragm meets."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.sheets.drawings.callouts import callouts
from docgen.sheets.drawings.canvas import INK, PAPER, SHADE, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.panels import FRAME

GAP = 2.0
"""Height of the feeler as drawn, mm."""
FACE, FLOOR, EDGE = 11.5, 23.0, 4.6
"""The gasket face of the body, the floor of the chamber; how high the straight edge is."""
_WIDE, _HIGH = 62.0, 29.5
_PIN: Point = (26.0, 16.6)


def lever_above(title: str, words: Mapping[str, str]) -> str:
    """The end stands above the gasket face: the straight edge lies on a feeler at each side, and just touches it."""
    return _lever(title, words, GAP)


def lever_below(title: str, words: Mapping[str, str]) -> str:
    """The end stands below the gasket face: the straight edge lies on the face, the feeler goes between."""
    return _lever(title, words, -GAP)


def end_of(above: float) -> Point:
    """The tip of the end that the diaphragm meets."""
    return (45.0, FACE - above)


def _lever(title: str, words: Mapping[str, str], above: float) -> str:
    scale = (FRAME[0] - 27.6) / _WIDE
    said = [words[key] for key in ("straight-edge", "feeler", "diaphragm-end")]
    canvas = Canvas(FRAME[0], _HIGH * scale, "; ".join([title, *said]))
    on = canvas.within((0, 0), scale)
    tip, under = end_of(above), FACE - max(above, 0.0)
    _body(on)
    _parts(on, tip)
    on.hatched([(3, under - EDGE), (59, under - EDGE), (59, under), (3, under)], 0.9, -1, 0.45)
    feelers = [(8.0, FACE), (54.0, FACE)] if above > 0 else [(tip[0], tip[1])]
    for x, foot in feelers:
        on.rectangle(x - 2.6, foot - GAP, 5.2, GAP, 0, INK)
    points = [
        (57.0, under - EDGE / 2),
        (feelers[-1][0] + 2.0, feelers[-1][1] - GAP / 2),
        (tip[0] - 1.0, tip[1] + 1.2),
    ]
    callouts(
        canvas,
        _WIDE * scale + 1.6,
        [((x * scale, y * scale), text) for (x, y), text in zip(points, said, strict=True)],
    )
    return canvas.svg()


def _body(on: Canvas) -> None:
    """The body cut through its chamber, with the seat of the needle below on the left."""
    on.hatched(
        [(0.4, FACE), (12, FACE), (12, FLOOR), (15.4, FLOOR), (15.4, 27), (16.8, 29.2), (0.4, 29.2)], 1.6, 1, 0.45
    )
    on.hatched(
        [(61.6, FACE), (51, FACE), (51, FLOOR), (20.6, FLOOR), (20.6, 27), (19.2, 29.2), (61.6, 29.2)], 1.6, 1, 0.45
    )


def _parts(on: Canvas, tip: Point) -> None:
    """Needle in its seat, spring under the long arm, lever on its pin."""
    on.polygon([(16.0, 18.6), (20.0, 18.6), (20.0, 26.4), (18.6, 28.6), (17.4, 28.6), (16.0, 26.4)], 0.35, TINT)
    on.polygon([(16.0, 26.4), (20.0, 26.4), (18.6, 28.6), (17.4, 28.6)], 0, INK)
    on.rectangle(17.0, 16.4, 2.0, 2.4, THIN, TINT)
    top = _PIN[1] + (tip[1] - _PIN[1]) * 0.52 + 1.2
    turns = 6
    coil = [(34.4 + (2.4 if n % 2 else -2.4), top + (FLOOR - top) * n / turns) for n in range(turns + 1)]
    on.polyline(coil, 0.45)
    elbow = (tip[0] - 5.0, tip[1] + 2.2)
    arm = [(16.4, 17.2), (_PIN[0], _PIN[1]), elbow, (tip[0] - 2.4, tip[1] + 0.5), (tip[0] + 2.6, tip[1] + 0.5)]
    on.polyline(arm, 1.9)
    on.circle(_PIN, 1.9, 0.35, PAPER)
    on.circle(_PIN, 1.0, 0, INK)
    on.rectangle(tip[0] - 2.6, tip[1], 5.2, 1.1, 0.3, SHADE)
