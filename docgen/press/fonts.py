"""From the text of a page to the fonts that draw it, with no font of the machine involved.

The main family draws everything it can. A character that it lacks comes from a declared fallback, cut down to the
characters of that page, so that a fallback never takes over a digit or a letter of the main family. A character that
no declared face has is an error before printing: `missing_glyphs` names it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, lru_cache
from pathlib import Path

from weasyprint import CSS
from weasyprint.text.fonts import FontConfiguration

from docgen.press.faces import (
    FALLBACKS,
    FIELD_FAMILY,
    MAIN,
    Face,
    characters,
    cut,
    main_characters,
    needs_no_glyph,
)
from docgen.press.fetch import SealedFetcher

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
    ours = {"FONTCONFIG_FILE": str(FONTCONFIG_FILE)}
    hidden = ("FONTCONFIG_PATH", "FONTCONFIG_SYSROOT")
    before = {name: os.environ.get(name) for name in (*ours, *hidden)}
    os.environ.update(ours)
    for name in hidden:
        os.environ.pop(name, None)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def _rule(face: Face) -> str:
    return (
        f'@font-face {{ font-family: "{face.family}"; src: url(font:{face.name}); '
        f"font-weight: {face.weight}; font-style: {face.style} }}"
    )


@cache
def _main_files() -> dict[str, bytes]:
    field = Face("field", FIELD_FAMILY, MAIN[0].package, MAIN[0].file)
    return {face.name: face.read() for face in MAIN} | {"field": cut(field, main_characters(), shaping=False)}


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
    field = Face("field", FIELD_FAMILY, "", "")
    css = "\n".join(_rule(face) for face in (*MAIN, field, *(face for face, _ in fallbacks)))
    with _only_our_fonts():
        config = FontConfiguration()
    fetcher = SealedFetcher(fonts=found)
    CSS(string=css, font_config=config, url_fetcher=fetcher, base_url="asset:")
    return config
