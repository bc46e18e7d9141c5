"""The catalogues are whole and fresh, and no sheet says a word that is not in them."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from dataclasses import fields
from html.parser import HTMLParser

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from docgen.club.catalogue import ENGLISH, catalogue_path, languages
from docgen.job.words import JobWords
from docgen.sheets.jinja import template_folder
from tools.wordlist import all_words, word_classes

OTHERS = [language for language in languages() if language != ENGLISH]


def read(language: str) -> Catalog:
    with catalogue_path(language).open("rb") as file:
        return read_po(file, locale=language.replace("-", "_"), abort_invalid=True)


def test_english_and_german_are_there() -> None:
    assert {"en", "de"} <= set(languages())


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_has_every_word_and_no_other(language: str) -> None:
    held = {(message.context, message.id) for message in read(language) if message.id}
    said = set(all_words())
    hint = f"run: python -m tools.catalogue {language}"
    assert len(said) > 400
    assert sorted(said - held) == [], hint
    assert sorted(held - said) == [], hint


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_is_translated_and_nobody_doubts_it(language: str) -> None:
    messages = [message for message in read(language) if message.id]
    assert [message.context for message in messages if not message.string or message.fuzzy] == []
    assert list(read(language).obsolete) == []


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_filled_in_is_the_same_in_every_language(language: str) -> None:
    wrong = [
        message.context
        for message in read(language)
        if message.id and sorted(_braces(str(message.id))) != sorted(_braces(str(message.string)))
    ]
    assert wrong == []


def _braces(text: str) -> list[str]:
    return re.findall(r"\{[^{}]*\}", text)


@pytest.mark.parametrize("language", languages())
def test_what_the_sheet_tells_to_write_for_no_findings_counts_as_none(language: str) -> None:
    for kind in word_classes():
        words = kind.speaking(language)
        if hasattr(words, "findings_note"):
            assert words.none_found in words.findings_note


def test_no_class_of_words_says_again_what_the_one_below_it_says() -> None:
    twice = [
        f"{kind.__name__}.{name}"
        for kind in word_classes()
        if kind is not JobWords
        for name in inspect.get_annotations(kind)
        if name in {one.name for one in fields(kind.__mro__[1])}  # type: ignore[arg-type]
    ]
    assert len(word_classes()) >= 4
    assert twice == []


class _Words(HTMLParser):
    """The text of a template outside its braces."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_data(self, data: str) -> None:
        if self.cdata_elem == "style":
            return
        self.found += re.findall(r"[^\W\d_]{2,}", data)


def _literal(text: str) -> Iterator[str]:
    reader = _Words()
    text = re.sub(r"(</?)\{\{.*?\}\}", r"\1x", text, flags=re.DOTALL)  # a tag whose name is chosen
    reader.feed(re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", " ", text, flags=re.DOTALL))
    return iter(reader.found)


def test_templates_hold_layout_and_no_words() -> None:
    """The page in the browser speaks English as the command line does."""
    own = ("entry",)
    pages = [path for path in sorted(template_folder().glob("*.html.j2")) if not path.name.startswith(own)]
    assert len(pages) >= 8
    literal = {path.name: sorted(set(_literal(path.read_text("utf-8"))) - {"mm"}) for path in pages}
    assert {name: words for name, words in literal.items() if words} == {}
