"""The catalogue of a language, brought up to date with the program's words: ``python -m tools.catalogue de``.

New words come in with an empty translation, or with that of a word much like it, marked fuzzy for whoever looks at it;
words that the program no longer says go. Without a language: every one there is.
"""

from __future__ import annotations

import sys
from io import BytesIO

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from docgen.club.catalogue import ENGLISH, catalogue_path, languages
from docgen.club.store import replace
from tools.wordlist import all_words

_HEAD_WITHOUT_USE = ('"Project-Id', '"Report-Msgid', '"POT-Creation', '"PO-Revision', '"Last-Translator',
                     '"Language-Team', '"Generated-By')  # fmt: skip


def updated(old: Catalog | None, language: str) -> Catalog:
    """The catalogue with every word of the program, and no other."""
    made = Catalog(locale=language.replace("-", "_"), fuzzy=False, header_comment="")
    for (context, text), places in all_words().items():
        made.add(text, context=context or None, locations=[(place, 0) for place in places])
    if old is None:
        return made
    old.update(made)
    old.obsolete.clear()
    return old


def update(language: str) -> None:
    """Write the catalogue of one language anew."""
    path = catalogue_path(language)
    old = None
    if path.is_file():
        with path.open("rb") as file:
            old = read_po(file, locale=language.replace("-", "_"))
    path.parent.mkdir(parents=True, exist_ok=True)
    made = updated(old, language)
    replace(path, as_text(made))
    left = sum(1 for m in made if m.id and (m.fuzzy or not m.string))
    sys.stdout.write(f"{path}: {left} words to translate or to look at\n")


def as_text(made: Catalog) -> bytes:
    """The catalogue's file. Its head says what readers of such files need: language, plural forms, encoding."""
    out = BytesIO()
    write_po(out, made, width=118, include_lineno=False)
    lines = out.getvalue().decode().lstrip("\n").splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith(_HEAD_WITHOUT_USE)).encode()


if __name__ == "__main__":
    for name in sys.argv[1:] or [one for one in languages() if one != ENGLISH]:
        update(name)
