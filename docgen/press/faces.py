"""The font files the press owns: which there are, which characters they draw, and subsets of them."""

from __future__ import annotations

import io
import unicodedata
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from fontTools import subset
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable
from fontTools.varLib import instancer

FAMILY = "Body"
FIELD_FAMILY = "Field"


@dataclass(frozen=True)
class Face:
    """One style of one family, drawn by one font file. `axes` fixes a variable font's axes."""

    name: str
    family: str
    package: str
    file: str
    weight: int = 400
    style: str = "normal"
    axes: tuple[tuple[str, float], ...] = ()

    def read(self) -> bytes:
        """The font file as installed."""
        return files(self.package).joinpath(self.file).read_bytes()


_ATKINSON = "fontpkg_atkinson_hyperlegible"
MAIN: tuple[Face, ...] = (
    Face("body-regular", FAMILY, _ATKINSON, "files/AtkinsonHyperlegible-Regular.ttf"),
    Face("body-bold", FAMILY, _ATKINSON, "files/AtkinsonHyperlegible-Bold.ttf", 700),
    Face("body-italic", FAMILY, _ATKINSON, "files/AtkinsonHyperlegible-Italic.ttf", 400, "italic"),
    Face("body-bold-italic", FAMILY, _ATKINSON, "files/AtkinsonHyperlegible-BoldItalic.ttf", 700, "italic"),
)

_NOTO, _NOTO_FILE = "fontpkg_noto_sans", "files/NotoSans[wdth,wght].ttf"
_HEBREW, _HEBREW_FILE = "fontpkg_heebo", "files/Heebo[wght].ttf"
_ARABIC = "fontpkg_ibm_plex_sans_arabic"

# The order is the order of preference: the first family that has a character draws it. The Arabic face is one that
# draws each letter with one glyph; faces that compose letters from base and dots lose the text behind the dots.
# The East Asian face has one weight, so bold text in it prints in the regular weight.
FALLBACKS: tuple[Face, ...] = (
    Face("wide-regular", "Body Wide", _NOTO, _NOTO_FILE, 400, axes=(("wght", 400), ("wdth", 100))),
    Face("wide-bold", "Body Wide", _NOTO, _NOTO_FILE, 700, axes=(("wght", 700), ("wdth", 100))),
    Face("hebrew-regular", "Body Hebrew", _HEBREW, _HEBREW_FILE, 400, axes=(("wght", 400),)),
    Face("hebrew-bold", "Body Hebrew", _HEBREW, _HEBREW_FILE, 700, axes=(("wght", 700),)),
    Face("arabic-regular", "Body Arabic", _ARABIC, "files/IBMPlexSansArabic-Regular.ttf"),
    Face("arabic-bold", "Body Arabic", _ARABIC, "files/IBMPlexSansArabic-Bold.ttf", 700),
    Face("east-asian", "Body East Asian", "noto_cjk_sans_jp_regular", "NotoSansCJKjp-Regular.otf"),
)


@cache
def characters(package: str, file: str) -> frozenset[str]:
    """The characters that one font file has a glyph for."""
    with TTFont(io.BytesIO(files(package).joinpath(file).read_bytes()), lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


@cache
def main_characters() -> frozenset[str]:
    """The characters that every style of the main family has."""
    return frozenset.intersection(*(characters(face.package, face.file) for face in MAIN))


def needs_no_glyph(char: str) -> bool:
    """True for white space and for format characters (joiners, direction marks, soft hyphen), which draw nothing."""
    return char.isspace() or unicodedata.category(char) in ("Cf", "Cc") or "\ufe00" <= char <= "\ufe0f"


def cut(face: Face, wanted: frozenset[str], *, shaping: bool = True) -> bytes:
    """A static font with only the glyphs that `wanted` needs; the same bytes for the same input.

    `shaping` keeps the layout features (joined Arabic letters, kerning); form fields have no use for them.
    """
    options: Any = subset.Options()
    options.hinting = False
    options.layout_features = ["*"] if shaping else []
    options.notdef_outline = True
    options.name_IDs = [1, 2, 4, 6]
    options.drop_tables += ["meta"]
    with TTFont(io.BytesIO(face.read()), lazy=True, recalcTimestamp=False) as font:
        subsetter = subset.Subsetter(options)
        subsetter.populate(unicodes=sorted(map(ord, wanted)))
        subsetter.subset(font)
        if face.axes:
            instancer.instantiateVariableFont(font, dict(face.axes), inplace=True)
        if "CFF " in font:
            to_truetype(font)
        out = io.BytesIO()
        font.save(out)
        return out.getvalue()


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
