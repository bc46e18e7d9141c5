"""Type: its sizes on the bench leaf, and how wide a text will be, from the typeface's own figures.

Characters are at least 0.004 of the reading distance high (15 minutes of arc), preferably 0.006 (20 minutes):
NUREG-0700 rev. 3. What is read row by row stands half-way, at 0.005; nothing is smaller than the least. Widths are only
to share out columns, the press checks the result.
"""

from __future__ import annotations

import io
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from math import sqrt

from docgen.trade.quantity import Quantity

CAP_HEIGHT = 0.668
"""Height of a capital of the typeface, in ems (Atkinson Hyperlegible, table OS/2)."""
LEAST, TEXT = 0.004, 0.005


@dataclass(frozen=True)
class Scale:
    """The type sizes, in mm. ``step`` is the size of the rows' text; every other size is a fixed part of it."""

    step: float

    @property
    def small(self) -> float:
        """Labels, notes, feet: nothing is smaller."""
        return round(self.step * LEAST / TEXT, 3)

    @property
    def middle(self) -> float:
        """Safety messages, lists."""
        return round(sqrt(self.small * self.step), 3)

    @property
    def value(self) -> float:
        """Torques and other figures that are set on a tool."""
        return round(self.step * 1.25, 3)

    @property
    def number(self) -> float:
        """Step numbers."""
        return round(self.step * 1.5, 3)

    @property
    def title(self) -> float:
        """The job's title on the first page."""
        return round(self.step * 1.4, 3)


def scale_for(distance: Quantity) -> Scale:
    """The type scale for a bench distance.

    step size = 0.005 D / 0.668, so that a capital is 0.005 D high; the smallest size is four fifths of it.

    >>> from docgen.trade.quantity import parse_quantity
    >>> scale_for(parse_quantity("600 mm"))
    Scale(step=4.492)
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
