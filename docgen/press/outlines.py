"""CFF outlines to TrueType ones.

A PDF shows a character-keyed CFF font by the font's own character numbers, where the printing library writes glyph
numbers: in a subset the two differ and some viewers show the wrong glyph. TrueType glyphs have one number only.
"""

from __future__ import annotations

from typing import Any

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable

TOLERANCE = 0.5  # of 1000 units to the em: at 12 pt, a 500th of a millimetre


def to_truetype(font: TTFont) -> None:
    """Turn the outlines of a CFF font into quadratic ones, in place; names, widths and layout tables stay."""
    order = font.getGlyphOrder()
    shapes = font.getGlyphSet()
    drawn: dict[str, Any] = {}
    for name in order:
        pen = TTGlyphPen(None)
        shapes[name].draw(Cu2QuPen(pen, TOLERANCE, reverse_direction=True))
        drawn[name] = pen.glyph()
    for tag in ("CFF ", "VORG"):
        if tag in font:
            del font[tag]
    font["loca"] = newTable("loca")
    glyf = font["glyf"] = newTable("glyf")
    glyf.glyphOrder, glyf.glyphs = order, drawn
    for name in order:
        drawn[name].recalcBounds(glyf)
        width, _ = font["hmtx"][name]
        font["hmtx"][name] = (width, getattr(drawn[name], "xMin", 0))
    old = font["maxp"]
    maxp = font["maxp"] = newTable("maxp")
    maxp.tableVersion, maxp.numGlyphs = 0x00010000, old.numGlyphs
    for field in (
        "maxPoints maxContours maxCompositePoints maxCompositeContours maxTwilightPoints maxStorage maxFunctionDefs "
        "maxInstructionDefs maxStackElements maxSizeOfInstructions maxComponentElements maxComponentDepth"
    ).split():
        setattr(maxp, field, 0)
    maxp.maxZones = 1
    maxp.recalc(font)
    post = font["post"]
    post.formatType, post.extraNames, post.mapping, post.glyphOrder = 2.0, [], {}, order
    font.sfntVersion = "\x00\x01\x00\x00"
