"""What a spark plug's nose and a reed petal's edges tell, beside what is good. Common practice, no source."""

from __future__ import annotations

from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, SHADE, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.gauge_marks import between
from docgen.sheets.drawings.panels import Panel, panelled
from docgen.sheets.words import Words


def plug_face(title: str, words: Words) -> str:
    """The nose of a plug in its cut shell: tan; white; with beads of metal on it."""
    w = words.drawn
    row = (
        Panel(lambda c: _plug(c, SHADE), w["tan"], "good"),
        Panel(lambda c: _plug(c, PAPER), w["white"], "bad"),
        Panel(lambda c: _plug(c, PAPER, beads=True), w["beaded"], "bad"),
    )
    return panelled(row, (26.0, 24.0), title, words)


_BEADS: tuple[tuple[Point, float], ...] = (
    ((11.3, 7.6), 0.6), ((13.6, 9.4), 0.75), ((12.2, 12.2), 0.55), ((14.6, 12.6), 0.6), ((12.9, 15.0), 0.5),
    ((11.6, 17.4), 0.5), ((14.5, 16.8), 0.45), ((14.0, 19.4), 0.6),
)  # fmt: skip


def _plug(canvas: Canvas, nose: str, *, beads: bool = False) -> None:
    """Shell cut open with its thread, insulator, both electrodes."""
    for sign in (-1, 1):
        edge = [(13.0 + sign * x, y) for x, y in ((9.0, 0.4), (9.0, 17.0), (6.4, 17.0), (5.2, 0.4))]
        canvas.hatched(edge, 1.0, sign, OUTLINE)
        for y in (3.0, 5.6, 8.2, 10.8, 13.4):
            canvas.line((13.0 + sign * 9.0, y), (13.0 + sign * 10.0, y + 1.0), 0.5)
    canvas.polygon([(9.2, 0.4), (16.8, 0.4), (15.8, 17.6), (15.2, 18.6), (10.8, 18.6), (10.2, 17.6)], OUTLINE, nose)
    canvas.rectangle(11.9, 18.6, 2.2, 1.8, 0.3, INK)
    canvas.polygon([(19.4, 17.0), (22.0, 17.0), (22.0, 23.6), (10.6, 23.6), (10.6, 21.6), (19.4, 21.6)], OUTLINE, TINT)
    for at, radius in _BEADS if beads else ():
        canvas.circle(at, radius, 0, INK)


def petal_edges(title: str, words: Words) -> str:
    """A reed petal from above: whole, frayed, chipped; and from its side, standing open at its tip."""
    w = words.drawn
    row = (
        Panel(_whole, w["whole"], "good"),
        Panel(_frayed, w["frayed"], "bad"),
        Panel(_chipped, w["chipped"], "bad"),
        Panel(_open, w["tip-gap"], "bad"),
    )
    return panelled(row, (20.0, 24.0), title, words)


_PETAL = [(4.0, 19.0), (4.0, 5.2), (5.6, 3.6), (14.4, 3.6), (16.0, 5.2), (16.0, 19.0)]


def _clamp(canvas: Canvas) -> None:
    canvas.rectangle(2.4, 17.4, 15.2, 6.2, OUTLINE, TINT, 0.6)
    for x in (6.4, 13.6):
        canvas.circle((x, 20.5), 1.4, 0.4)


def _whole(canvas: Canvas) -> None:
    canvas.polygon(_PETAL)
    _clamp(canvas)


def _frayed(canvas: Canvas) -> None:
    canvas.polygon(_PETAL, 0)
    canvas.polyline([_PETAL[0], (4.0, 8.0)], OUTLINE)
    canvas.polyline([(16.0, 11.0), _PETAL[-1]], OUTLINE)
    for n in range(17):
        x = 3.6 + 0.8 * n
        canvas.line((x, 5.6 - (n % 3) * 0.4), (x + (0.5 if n % 2 else -0.5), 2.2 + (n % 4) * 0.5), 0.25)
    for n in range(9):
        y = 4.8 + 0.75 * n
        canvas.line((15.2, y), (17.6 - (n % 3) * 0.5, y - 0.7 + (n % 2) * 0.9), 0.25)
    for n in range(5):
        y = 4.8 + 0.75 * n
        canvas.line((4.8, y), (2.6 + (n % 3) * 0.4, y - 0.4), 0.25)
    _clamp(canvas)


def _chipped(canvas: Canvas) -> None:
    chip = [(4.0, 19.0), (4.0, 5.2), (5.6, 3.6), (10.2, 3.6), (10.8, 5.2), (12.0, 5.0), (12.6, 7.2), (14.2, 7.4),
            (14.6, 9.4), (16.0, 9.6), (16.0, 19.0)]  # fmt: skip
    canvas.polygon(chip)
    canvas.polyline([(12.6, 7.2), (11.4, 10.4), (11.8, 12.6)], 0.35)
    _clamp(canvas)


def _open(canvas: Canvas) -> None:
    """From the side: held at its foot on the left, the petal stands off the seat at its tip."""
    canvas.hatched([(0.6, 14.6), (15.4, 16.2), (15.4, 23.4), (0.6, 23.4)], 1.3, 1, OUTLINE)
    canvas.polyline([(0.8, 14.2), (5.4, 14.2), (10.0, 13.0), (15.4, 10.8)], 0.9)
    canvas.rectangle(1.0, 9.8, 4.0, 4.0, OUTLINE, TINT)
    for y in (10.8, 16.2):
        canvas.line((15.4, y), (19.4, y), THIN)
    between(canvas, (18.2, 10.8), (18.2, 16.2))
