"""The font files that the press owns, and from the text of a page to the fonts that draw it; no font of the machine.

The main family draws everything it can. A character that it lacks comes from a declared fallback, cut down to the
characters of that page, so that a fallback never takes over a digit or a letter of the main family. A character that
no declared face has is an error before printing: `missing_glyphs` names it.
"""

import io
import os
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from fontTools import subset
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer
from weasyprint import CSS
from weasyprint.text.fonts import FontConfiguration

from docgen.press.page import SealedFetcher

FAMILY = "Body"


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

FIELD = Face("field", "Field", MAIN[0].package, MAIN[0].file)
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
    shapes, drawn = font.getGlyphSet(), {}
    for name in font.getGlyphOrder():
        pen = TTGlyphPen(None)
        shapes[name].draw(Cu2QuPen(pen, TOLERANCE, reverse_direction=True))
        drawn[name] = pen.glyph()
    for tag in {"CFF ", "VORG"} & {*font.keys()}:
        del font[tag]
    builder = FontBuilder(font=font)
    builder.isTTF = True
    builder.setupGlyf(drawn)
    builder.setupMaxp()
    builder.setupPost()
    for name, glyph in drawn.items():
        font["hmtx"][name] = (font["hmtx"][name][0], getattr(glyph, "xMin", 0))
    font.sfntVersion = "\x00\x01\x00\x00"


BLANKS = frozenset(" \u00a0")  # blanks between two words of one script are set in that script's face
FONTCONFIG_FILE = Path(__file__).with_name("fonts.conf")


def beyond_main(text: str) -> frozenset[str]:
    """The characters of a text that the main family cannot draw."""
    return frozenset(char for char in set(text) - main_characters() if not needs_no_glyph(char))


def missing_glyphs(text: str) -> set[str]:
    """The characters of a text that no declared face can draw."""
    missing = set(beyond_main(text))
    for face in FALLBACKS:
        if not missing:
            break
        missing -= characters(face.package, face.file)
    return missing


@contextmanager
def _only_our_fonts() -> Iterator[None]:
    """Let fontconfig read our file, and nothing else, while a configuration is made."""
    names = ("FONTCONFIG_FILE", "FONTCONFIG_PATH", "FONTCONFIG_SYSROOT")
    before = {name: os.environ.pop(name) for name in names if name in os.environ}
    os.environ[names[0]] = str(FONTCONFIG_FILE)
    try:
        yield
    finally:
        del os.environ[names[0]]
        os.environ.update(before)


def _rule(face: Face) -> str:
    return (
        f'@font-face {{ font-family: "{face.family}"; src: url(font:{face.name}); '
        f"font-weight: {face.weight}; font-style: {face.style} }}"
    )


@cache
def _main_files() -> dict[str, bytes]:
    return {face.name: face.read() for face in MAIN} | {FIELD.name: cut(FIELD, main_characters(), shaping=False)}


def _fallback_files(extra: frozenset[str]) -> Iterator[tuple[Face, bytes]]:
    """Cut each fallback family to the characters that fall to it."""
    left = extra
    for family in dict.fromkeys(face.family for face in FALLBACKS):
        faces = [face for face in FALLBACKS if face.family == family]
        if not left:  # to read what the other faces have takes a tenth of a second
            return
        mine = left & characters(faces[0].package, faces[0].file)
        left -= mine
        if mine:
            cases = {form for char in mine for form in (*char.upper(), *char.lower())} - main_characters()
            for face in faces:
                yield face, cut(face, mine | cases | BLANKS)


@lru_cache(maxsize=16)
def fonts_for(extra: frozenset[str] = frozenset()) -> FontConfiguration:
    """The fonts for a page whose characters beyond the main family are `extra`; shared by all such pages."""
    fallbacks = list(_fallback_files(extra))
    found = dict(_main_files()) | {face.name: data for face, data in fallbacks}
    css = "\n".join(_rule(face) for face in (*MAIN, FIELD, *(face for face, _ in fallbacks)))
    with _only_our_fonts():
        config = FontConfiguration()
    fetcher = SealedFetcher(fonts=found)
    CSS(string=css, font_config=config, url_fetcher=fetcher, base_url="asset:")
    return config
