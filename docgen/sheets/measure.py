"""Type: its sizes on the bench leaf, and how wide a text will be, from the typeface's own figures.

Characters are at least 0.004 of the reading distance high (15 minutes of arc), preferably 0.006 (20 minutes):
NUREG-0700 rev. 3. What is read row by row stands half-way, at 0.005; nothing is smaller than the least. Widths are only
to share out columns, the press checks the result.
"""

import io
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files
from math import sqrt

from docgen.trade.quantity import Quantity

CAP_HEIGHT = 0.668
"""Height of a capital of the typeface, in ems (Atkinson Hyperlegible, table OS/2)."""
LEAST, TEXT = 0.004, 0.005


class Scale:
    """The type sizes, in mm, all of them fixed parts of ``step``, the size of the rows' text.

    small  : labels, notes, feet: nothing is smaller
    middle : safety messages, lists
    value  : torques and other figures that are set on a tool
    number : step numbers
    title  : the job's title on the first page
    """

    def __init__(self, step: float) -> None:
        self.step, self.small = step, round(step * LEAST / TEXT, 3)
        self.middle = round(sqrt(self.small * step), 3)
        self.value, self.number, self.title = round(step * 1.25, 3), round(step * 1.5, 3), round(step * 1.4, 3)


def scale_for(distance: Quantity) -> Scale:
    """The type scale for a bench distance.

    step size = 0.005 D / 0.668, so that a capital is 0.005 D high; the smallest size is four fifths of it.

    >>> from docgen.trade.quantity import parse_quantity
    >>> scale_for(parse_quantity("600 mm")).step
    4.492
    """
    length = float(distance.to("mm").value)
    return Scale(round(TEXT * length / CAP_HEIGHT + 0.0005, 3))


@cache
def _advances(bold: bool) -> dict[int, float]:
    from fontTools.ttLib import TTFont

    name = f"files/AtkinsonHyperlegible-{'Bold' if bold else 'Regular'}.ttf"
    with TTFont(io.BytesIO(files("fontpkg_atkinson_hyperlegible").joinpath(name).read_bytes()), lazy=True) as font:
        em = font["head"].unitsPerEm
        advances = font["hmtx"]
        widths = {code: advances[glyph][0] / em for code, glyph in font.getBestCmap().items()}
    figure = max(widths[ord(digit)] for digit in "0123456789")
    return widths | {ord(digit): figure for digit in "0123456789"}  # figures are set so that they line up


@lru_cache(maxsize=20_000)
def width(text: str, *, bold: bool = False) -> float:
    """The width of a text on one line, in ems. A character of another typeface counts as 0.6 em, a wide one as 1 em."""
    advances = _advances(bold)
    return sum(advances.get(ord(c), 1.0 if unicodedata.east_asian_width(c) in "WF" else 0.6) for c in text)


def longest_word(text: str, *, bold: bool = False) -> float:
    """The width of the longest stretch that cannot be broken, in ems."""
    return max((width(word, bold=bold) for word in text.split(" ")), default=0.0)


def shortened(text: str, room: float, lines: int = 1, *, bold: bool = False) -> str:
    """A text cut at a word, with "…" behind it, so that it takes no more lines than it may.

    room : the width of a line, in ems

    >>> shortened("Clutch: clean, inspect and regrease", 9.0)
    'Clutch: clean, …'
    """
    words = text.split()
    room *= 0.97  # kerning and rounding
    if _lines(words, room, bold) <= lines:
        return text
    while words and _lines([*words, "…"], room, bold) > lines:
        words.pop()
    return " ".join([*words, "…"]) if words else text[: max(1, int(room * lines))] + "…"


def lines_of(text: str, room: float, *, bold: bool = False) -> int:
    """How many lines a text takes on a width of ``room`` ems."""
    return _lines(text.split(), room * 0.97, bold)


def _lines(words: list[str], room: float, bold: bool) -> int:
    """How many lines words take; a word longer than a line counts as many as it needs."""
    count, used = 1, 0.0
    space = width(" ", bold=bold)
    for word in words:
        length = width(word, bold=bold)
        if used and used + space + length > room:
            count, used = count + 1, 0.0
        used += (space if used else 0.0) + length
        while used > room:
            count, used = count + 1, used - room
    return count
