"""What damage looks like, beside what is good: drum, sprocket, needle track, lining. Common practice, no source."""

from __future__ import annotations

from math import cos, pi, sin

from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, SHADE, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.panels import Panel, panelled
from docgen.sheets.words import Words

_SIZE = (28.0, 24.0)


def drum_heat(title: str, words: Words) -> str:
    """A drum cut open, with its track: even; with dark spots where it was hot; with a crack."""
    w = words.drawn
    row = (
        Panel(_drum, w["even-grey"], "good"),
        Panel(_drum_blue, w["blue"], "bad"),
        Panel(_drum_crack, w["cracked"], "bad"),
    )
    return panelled(row, _SIZE, title, words)


def _drum(canvas: Canvas) -> None:
    """The cup in section, open on the left: rims above and below, web on the right, the track between them."""
    canvas.rectangle(3.0, 4.4, 20.0, 15.2, 0, TINT)
    canvas.hatched([(3, 1.4), (26, 1.4), (26, 22.6), (3, 22.6), (3, 19.6), (23, 19.6), (23, 4.4), (3, 4.4)], 1.1)
    canvas.line((3.0, 4.4), (3.0, 19.6), THIN)


def _drum_blue(canvas: Canvas) -> None:
    """Spots, darker than the track round them."""
    _drum(canvas)
    for x, y, a, b in ((7.4, 8.8, 3.4, 3.2), (14.4, 15.2, 5.4, 3.0), (18.4, 8.2, 3.2, 2.8)):
        turns = [2 * pi * n / 36 for n in range(36)]
        edge = [(1 + 0.16 * sin(3 * t)) for t in turns]
        canvas.polygon([(x + e * a * cos(t), y + e * b * sin(t)) for t, e in zip(turns, edge, strict=True)], 0, SHADE)


def _drum_crack(canvas: Canvas) -> None:
    _drum(canvas)
    canvas.polyline([(3.0, 10.4), (6.4, 11.6), (8.0, 10.6), (11.6, 13.2), (14.0, 12.4), (17.4, 14.6)], 0.9)


def sprocket_teeth(title: str, words: Words) -> str:
    """Teeth of a sprocket: both flanks alike; worn to hooks."""
    w = words.drawn
    row = (
        Panel(lambda c: _teeth(c, 0.0), w["flanks-alike"], "good"),
        Panel(lambda c: _teeth(c, 1.0), w["hooked"], "bad"),
    )
    return panelled(row, (34.0, 19.0), title, words)


def tooth(lean: float) -> list[Point]:
    """The outline of one tooth from seat to seat, its tip upwards: symmetrical about x = 0, or leaning to a hook."""
    if not lean:
        seat = [(-4.6 + 2.6 * sin(a), -2.6 + 2.6 * cos(a)) for a in (pi / 2 * n / 5 for n in range(6))]
        rise = [*seat, (-1.6, -4.6), (-0.9, -6.2)]
        return [*rise, *((-x, y) for x, y in reversed(rise))]
    back = [(-4.6, 0.2), (-3.2, -0.4), (-1.4, -1.8), (0.2, -3.6), (1.8, -5.8), (2.4, -6.2)]
    hollow = [(3.0, -5.8), (2.5, -4.4), (1.4, -3.0), (1.1, -1.6), (1.7, -0.2), (3.0, 0.5), (4.6, 0.2)]
    return [*back, *hollow]


def _teeth(canvas: Canvas, lean: float) -> None:
    """Three teeth on a part of the rim."""
    centre, radius = (17.0, 46.6), 36.0
    points: list[Point] = []
    for n in (-1, 0, 1):
        turn = n * 9.2 / radius
        for x, y in tooth(lean):
            far, side = radius - y, x / radius + turn
            points.append((centre[0] + far * sin(side), centre[1] - far * cos(side)))
    turns = [0.383 - 0.766 * n / 12 for n in range(13)]
    rim = [(centre[0] + (radius - 6.0) * sin(a), centre[1] - (radius - 6.0) * cos(a)) for a in turns]
    canvas.polygon([*points, *rim], OUTLINE, TINT)


def needle_track(title: str, words: Words) -> str:
    """The journal of a shaft: bright and smooth; with notches that standing needles pressed in."""
    w = words.drawn
    row = (
        Panel(lambda c: _journal(c, False), w["bright"], "good"),
        Panel(lambda c: _journal(c, True), w["notched"], "bad"),
    )
    return panelled(row, (38.0, 20.0), title, words)


def _journal(canvas: Canvas, notched: bool) -> None:
    """Shoulder, journal, thread."""
    canvas.polygon([(0.4, 2), (8, 2), (8, 4.6), (29, 4.6), (29, 6.4), (36.4, 6.4), (37.4, 7.4), (37.4, 13.2),
                    (36.4, 14.2), (29, 14.2), (29, 16), (8, 16), (8, 18.6), (0.4, 18.6)])  # fmt: skip
    for x in (31.0, 32.8, 34.6):
        canvas.line((x - 0.5, 6.4), (x + 0.5, 14.2), 0.25)
    canvas.line((8.0, 4.6), (8.0, 16.0), 0.4)
    if notched:
        canvas.rectangle(11.0, 4.9, 15.6, 10.8, 0, SHADE)
        for n in range(6):
            y = 10.3 - 4.9 * cos(pi * (n + 0.5) / 6)
            canvas.line((11.4, y), (26.2, y), 0.9)


def shoe_lining(title: str, words: Words) -> str:
    """A shoe with its lining: dull and dry; dark and wet with oil."""
    w = words.drawn
    row = (Panel(lambda c: _shoe(c, False), w["dull"], "good"), Panel(lambda c: _shoe(c, True), w["oily"], "bad"))
    return panelled(row, (38.0, 21.0), title, words)


def _shoe(canvas: Canvas, oily: bool) -> None:
    """A third of the ring, the lining outside."""
    centre = (19.0, 27.0)

    def arc(radius: float, low: float = -0.75, high: float = 0.75) -> list[Point]:
        turns = [low + (high - low) * n / 24 for n in range(25)]
        return [(centre[0] + radius * sin(t), centre[1] - radius * cos(t)) for t in turns]

    canvas.polygon([*arc(21.0), *reversed(arc(12.0))], OUTLINE, PAPER)
    canvas.polygon([*arc(25.4), *reversed(arc(21.0))], OUTLINE, INK if oily else TINT)
    if not oily:
        for n in range(46):
            turn, radius = -0.7 + 1.4 * n / 45, (22.0, 24.3, 23.2)[n % 3]
            canvas.circle((centre[0] + radius * sin(turn), centre[1] - radius * cos(turn)), 0.2, 0, INK)
        return
    for low, high in ((-0.55, -0.25), (0.1, 0.5)):
        canvas.polygon([*arc(24.4, low, high), *reversed(arc(23.6, low, high))], 0, PAPER)
    for turn, long in ((-0.45, 3.0), (0.05, 4.4), (0.4, 2.6)):
        x, y = centre[0] + 21.0 * sin(turn), centre[1] - 21.0 * cos(turn)
        canvas.path(f"M{x - 0.9} {y}Q{x - 1.3} {y + long} {x} {y + long}Q{x + 1.3} {y + long} {x + 0.9} {y}Z", 0, INK)
