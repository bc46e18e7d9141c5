"""How wide a text will be, from the typeface's own figures; only to share out columns, the press checks the result."""

from __future__ import annotations

import io
import unicodedata
from functools import cache, lru_cache
from importlib.resources import files


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
