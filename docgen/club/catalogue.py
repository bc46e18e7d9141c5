"""The catalogues of the program's own words: one gettext file a language, ``docgen/locale/de/LC_MESSAGES/docgen.po``.

The files are read as they are: nothing is compiled that could be older than its source. English is the language that
the words are written in, and has no file. A message's context names the word's place, since the same English word may
be two in another language.
"""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

ENGLISH = "en"
LOCALES = Path(__file__).resolve().parents[1] / "locale"


def catalogue_path(language: str) -> Path:
    """Where a language's catalogue lies."""
    return LOCALES / language.replace("-", "_") / "LC_MESSAGES" / "docgen.po"


@cache
def languages() -> tuple[str, ...]:
    """The languages that the program can print in."""
    found = {path.parent.parent.name.replace("_", "-") for path in LOCALES.glob("*/LC_MESSAGES/docgen.po")}
    return tuple(sorted({ENGLISH, *found}))


@cache
def catalogue(language: str) -> Mapping[tuple[str, str], str]:
    """The words of a language by context and English; nothing for English. What is fuzzy or empty is left out.

    Errors: FileNotFoundError for a language without a catalogue.
    """
    if language == ENGLISH:
        return {}
    from babel.messages.pofile import read_po

    with catalogue_path(language).open("rb") as file:
        found = read_po(file, locale=language.replace("-", "_"))
    return {(m.context or "", str(m.id)): str(m.string) for m in found if m.id and m.string and not m.fuzzy}
