"""Where a reading is taken: the piece, with an arrow or a number at each place where the gauge goes.

A limit or setting of a model asks for one by its name in ``templates/drawings/gauged.svg``. A wrong picture is worse
than none: where a drawing needs words that it does not find among the positions, it is left out.
"""

import re
from collections.abc import Sequence

from docgen.club.words import Words
from docgen.job.wording import IN_ENGLISH
from docgen.sheets.drawings.art import Art, Text, pictures
from docgen.sheets.drawings.canvas import INK, PAPER, THIN, Canvas, Point
from docgen.sheets.drawings.panels import FRAME, LINE, WORD, wrapped

WIDTH, HEIGHT = 52.0, 36.0
"""Of a drawing without words, before it is made to fit its frame; mm."""
FIGURE = 5.0
"""Height of a number's ring, mm."""
BESIDE = 1.6
"""From a drawing with words to the callouts beside it, mm."""


def numbered(picture: str) -> bool:
    """Whether a drawing shows each position by its number."""
    return any(text.kind == "place" for text in pictures("gauged")[picture].texts())


def gauging_picture(
    picture: str, name: str, where: str, positions: Sequence[str], words: Words = IN_ENGLISH, *, ceiling: str = "",
    leak: str = "",
) -> str | None:  # fmt: skip
    """The drawing of where a reading is taken; None where there is none.

    picture         : its name in the file
    name, where     : of the limit or setting, for the alternative text
    positions       : the places of several readings; their numbers stand in the drawing
    ceiling, leak   : the pressure that is never passed; the least that must still be held: a gauge's one mark
    """
    art = pictures("gauged")[picture]
    listed = "; ".join(f"{n} {place}" for n, place in enumerate(positions, 1))
    title = ", ".join(filter(None, (words("Where the {name} is taken", name=name), where, listed)))
    if art.size:
        when, mark = ("ceiling", f" {ceiling}") if ceiling else ("leak-mark", f": {leak}") if leak else ("plain", "")
        return _worded(art, art.size, title, words, when, mark)
    places = _places(art, positions)
    if places is None:
        return None
    scale = min(FRAME[0] / WIDTH, FRAME[1] / HEIGHT)
    canvas = Canvas(WIDTH * scale, HEIGHT * scale, title)
    inner = canvas.within((0, 0), scale)
    art.draw(inner, *(word for place in places for word in place.name.split()))
    for n, place in enumerate(places, 1):
        _number(inner, place.at, n)
    for row in (text for text in art.texts() if text.kind == "row"):
        found = [n for n, place in enumerate(places, 1) if row.name in place.name]
        for turn, n in enumerate(found):
            by = turn - (len(found) - 1) / 2
            apart = (float(row.given.get("dx", "0")), float(row.given.get("dy", "0")))
            _number(inner, (row.at[0] + by * apart[0], row.at[1] + by * apart[1]), n)
    return canvas.svg()


def _worded(art: Art, size: Point, title: str, words: Words, when: str, mark: str) -> str:
    """A drawing with words in it, and callouts beside it; ``mark`` stands behind the words of a gauge's mark."""
    texts = art.texts(when)
    spoken = {text.name: words(text.name) + (mark if "data-when" in text.given else "") for text in texts}
    named = [(text.at, spoken[text.name]) for text in texts if text.kind == "callout"]
    canvas = Canvas(FRAME[0] if named else size[0], size[1], "; ".join([title, *(spoken[text.name] for text in texts)]))
    art.draw(canvas, when)
    for text in texts:
        if text.kind == "word":
            canvas.text(text.at, spoken[text.name], WORD, anchor=text.given.get("text-anchor", "middle"))
    _callouts(canvas, size[0] + BESIDE, named)
    return canvas.svg()


def _callouts(canvas: Canvas, left: float, named: Sequence[tuple[Point, str]]) -> None:
    """Words in a column from ``left`` to the drawing's right edge, in the order given, each near its point.

    named : each point with its words, from the top
    """
    lines = [wrapped(text, canvas.width - left) for _, text in named]
    half = [LINE * len(one) / 2 for one in lines]
    places: list[float] = []
    low = 0.0
    for (point, _), high in zip(named, half, strict=True):
        places.append(max(low + high, point[1]))
        low = places[-1] + high + 0.3
    limit = canvas.height
    for n in range(len(places) - 1, -1, -1):
        places[n] = min(places[n], limit - half[n])
        limit = places[n] - half[n] - 0.3
    for (point, _), one, middle in zip(named, lines, places, strict=True):
        for n, text in enumerate(one):
            canvas.text((left, middle + LINE * (n - (len(one) - 1) / 2)), text, WORD, anchor="start")
        _leader(canvas, (left - 0.8, middle), point)


def _leader(canvas: Canvas, start: Point, end: Point) -> None:
    """A thin line with white beside it, so that it shows on hatching, and a dot where it ends."""
    canvas.bar(start, end, 0.9, PAPER)
    canvas.circle(end, 0.85, 0, PAPER)
    canvas.line(start, end, THIN)
    canvas.circle(end, 0.6, 0, INK)


def _places(art: Art, positions: Sequence[str]) -> list[Text] | None:
    """The place of each position: the one whose words it has, or the next of those without; None where it has none."""
    places = [text for text in art.texts() if text.kind == "place"]
    if not all(place.name for place in places):
        return places if len(places) == len(positions) else None
    found = [
        [place for place in places if all(re.search(rf"\b{word}\b", text) for word in place.name.split())]
        for text in positions
    ]
    if places and (not found or any(len(fitting) != 1 for fitting in found)):
        return None
    return [fitting[0] for fitting in found if fitting]


def _number(canvas: Canvas, where: Point, number: int) -> None:
    canvas.circle(where, FIGURE / 2, THIN, PAPER)
    canvas.text(where, str(number), FIGURE * 0.72)
