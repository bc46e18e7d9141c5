"""How wide a text will be, from the typeface's own figures; only to share out columns, the press checks the result."""

from __future__ import annotations

import io
import unicodedata
from functools import cache
from importlib.resources import files

from fontTools.ttLib import TTFont


@cache
def _advances(bold: bool) -> dict[int, float]:
    name = f"files/AtkinsonHyperlegible-{'Bold' if bold else 'Regular'}.ttf"
    with TTFont(io.BytesIO(files("fontpkg_atkinson_hyperlegible").joinpath(name).read_bytes()), lazy=True) as font:
        em = font["head"].unitsPerEm
        advances = font["hmtx"]
        return {code: advances[glyph][0] / em for code, glyph in font.getBestCmap().items()}


def width(text: str, *, bold: bool = False) -> float:
    """The width of a text on one line, in ems. A character of another typeface counts as 0.6 em, a wide one as 1 em."""
    advances = _advances(bold)
    return sum(
        advances.get(ord(c), 1.0 if unicodedata.east_asian_width(c) in "WF" else 0.6) for c in text
    )


def longest_word(text: str, *, bold: bool = False) -> float:
    """The width of the longest stretch that cannot be broken, in ems."""
    return max((width(word, bold=bold) for word in text.split(" ")), default=0.0)
