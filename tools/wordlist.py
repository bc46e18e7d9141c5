"""Every word that the program puts on a sheet, as the catalogues must hold it (``python -m tools.catalogue``)."""

from __future__ import annotations

import ast
from collections.abc import Collection, Iterator, Mapping
from itertools import product
from pathlib import Path
from typing import BinaryIO
from xml.etree import ElementTree

from babel.messages.extract import extract_from_file

import docgen
from docgen.club.schema.event import KINDS
from docgen.sheets.jinja import template_folder

Texts = tuple[str | None, ...]
Found = Iterator[tuple[int, str, Texts, list[str]]]
CODE, ROOT = Path(docgen.__file__).parent, Path(docgen.__file__).parents[1]
SAID_BY: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "w": None, "words": None, "message": None, "_": None, "pgettext": ((1, "c"), 2),
}  # fmt: skip
"""What a word is said with in the code and in the templates, and which of its arguments are the word."""
NEVER_ENTERED = {"event", "parents", "instead", "corrects"}
"""Fields of an event that docgen itself writes."""


def in_python(file: BinaryIO, keywords: Collection[str], comment_tags: object, options: Mapping[str, object]) -> Found:
    """The words of a module, for Babel, whose own reader passes over those inside f-strings before Python 3.12.

    ``w("one" if ... else "other")`` says two words.
    """
    calls = [node for node in ast.walk(ast.parse(file.read())) if isinstance(node, ast.Call)]
    for node in sorted(calls, key=lambda node: (node.lineno, node.col_offset)):
        name = getattr(node.func, "id", None) or getattr(node.func, "attr", "")
        if name in keywords:
            for texts in product(*(_texts(one) for one in node.args)):
                yield node.lineno, name, texts, []


def _texts(node: ast.expr) -> Texts:
    if isinstance(node, ast.IfExp):
        return (*_texts(node.body), *_texts(node.orelse))
    return (node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None,)


def in_svg(file: BinaryIO, keywords: Collection[str], comment_tags: object, options: Mapping[str, object]) -> Found:
    """The words in a file of drawings: titles of its pictures, captions, and what is written into them."""
    for one in ElementTree.parse(file).iter():
        tag = one.tag.rpartition("}")[2]
        written = tag == "title" or (tag == "text" and one.get("class") in ("word", "callout"))
        for text in (one.text if written else None, one.get("data-word")):
            if text:
                yield 0, "_", (text,), []


METHODS = {".py": in_python, ".j2": "jinja2.ext:babel_extract", ".svg": in_svg}


def all_words() -> dict[tuple[str, str], tuple[str, ...]]:
    """Each word by its context and English, with the files that say it."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    for path in (*sorted(CODE.rglob("*.py")), *sorted(template_folder().rglob("*.j2")), *_drawings()):
        for _, text, _, context in extract_from_file(METHODS[path.suffix], path, SAID_BY, options={"silent": "false"}):
            found.setdefault((context or "", str(text)), {})[path.relative_to(ROOT).as_posix()] = None
    for name in sorted({name for kind in KINDS.values() for name in kind.model_fields} - NEVER_ENTERED):
        found[("entered", name.replace("_", " "))] = {"docgen/club/schema/event.py": None}
    return {message: tuple(places) for message, places in found.items()}


def _drawings() -> list[Path]:
    return sorted((template_folder() / "drawings").glob("*.svg"))
