"""Pictures side by side: what is right, what is bad, and a wrong way that is crossed out."""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from docgen.club.words import Words, message
from docgen.sheets.drawings.art import Art, pictures
from docgen.sheets.drawings.canvas import INK, PAPER, Canvas, Point
from docgen.sheets.measure import width as measured

FRAME = (90.0, 30.0)
"""The most that a drawing takes in a column of the bench leaf or the reading; width and height, mm."""
WORD = 3.6
"""Size of words in drawings, mm: capitals of 2.4 mm."""
LINE = 1.15 * WORD
_GAP, _MOST, _ABOVE = 3.0, 2.2, 0.6
_BADGE, _SIGN = 1.9, 4.8
"""Radius of a tick or cross before the words, and the room that it takes; mm."""

_SAID = {"good": message("good"), "bad": message("bad"), "wrong": message("crossed out")}
"""What is read aloud for the tick before a good picture's words, the cross before a bad one's, and a wrong way's."""


class Panel(NamedTuple):
    """One picture of a row, drawn by ``draw`` on an area of the row's size, with words below it: good, bad or wrong."""

    draw: Callable[[Canvas], None]
    caption: str
    verdict: str


def wrapped(text: str, room: float) -> list[str]:
    """A text in lines of ``room`` mm; a word longer than that has a line to itself."""
    lines: list[str] = []
    if not text:
        return lines
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measured(longer, bold=True) * WORD <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def panelled(row: Sequence[Panel], size: tuple[float, float], title: str, words: Words) -> str:
    """A row of pictures, as large as the frame lets, no more than 2.2 times as large as they are described.

    size  : width and height of each picture as described, mm
    title : the alternative text, to which the words below each picture are added
    """
    said = [f"{words(_SAID[panel.verdict])}: {panel.caption}" for panel in row]
    (most_wide, most_high), (wide, high) = FRAME, size
    room = (most_wide - _GAP * (len(row) - 1)) / len(row)
    captions = [wrapped(panel.caption, room - _SIGN) for panel in row]
    below = LINE * max(map(len, captions)) + _ABOVE
    scale = min(_MOST, room / wide, (most_high - below) / high)
    lines_wide = [max(measured(line, bold=True) * WORD for line in lines) for lines in captions]
    column = max(wide * scale, min(max(lines_wide) + _SIGN, room))
    canvas = Canvas(len(row) * (column + _GAP) - _GAP, high * scale + below, "; ".join([title, *said]))
    for n, (panel, lines) in enumerate(zip(row, captions, strict=True)):
        middle, top = n * (column + _GAP) + column / 2, high * scale + _ABOVE
        left = middle - wide * scale / 2
        panel.draw(canvas.within((left, 0), scale))
        if panel.verdict == "wrong":
            crossed(canvas, (left, 0), wide * scale, high * scale)
        badge(canvas, (middle - lines_wide[n] / 2 - _SIGN / 2 + _BADGE, top + LINE / 2), panel.verdict == "good")
        for at, line in enumerate(lines):
            canvas.text((middle + _SIGN / 2, top + LINE * (at + 0.5)), line, WORD)
    return canvas.svg()


def sight_picture(name: str, title: str, words: Words) -> str:
    """What damage looks like, beside what is good: a row of pictures from ``templates/drawings/sights.svg``."""
    art = pictures("sights")[name]
    return side_by_side(art, art.parts(), title, words)


def side_by_side(art: Art, parts: Sequence[Art], title: str, words: Words) -> str:
    """Parts of a picture in a row, each with its word; its class is its verdict."""
    assert art.size is not None
    row = [Panel(part.draw, words(part.given["data-word"]), part.given["class"]) for part in parts]
    return panelled(row, art.size, title, words)


def badge(canvas: Canvas, at: Point, good: bool) -> None:
    """A tick on white, or a cross on black."""
    x, y = at
    canvas.circle(at, _BADGE - (0.15 if good else 0.0), 0.3 if good else 0, PAPER if good else INK)
    if good:
        canvas.polyline([(x - 1.0, y + 0.1), (x - 0.3, y + 0.9), (x + 1.1, y - 1.0)], 0.65)
        return
    for sign in (1, -1):
        canvas.bar((x - 0.95, y - 0.95 * sign), (x + 0.95, y + 0.95 * sign), 0.7, PAPER)


def crossed(canvas: Canvas, at: Point, wide: float, high: float) -> None:
    """A heavy cross over a picture, with white beside its bars, so that it shows on hatching too."""
    left, top, right, low = at[0] + 1.0, at[1] + 1.0, at[0] + wide - 1.0, at[1] + high - 1.0
    for weight, fill in ((2.6, PAPER), (1.5, INK)):
        canvas.bar((left, top), (right, low), weight, fill)
        canvas.bar((left, low), (right, top), weight, fill)
