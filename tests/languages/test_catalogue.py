"""The catalogues are whole and fresh, and no sheet says a word that is not in them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from html.parser import HTMLParser
from io import BytesIO
from string import Formatter

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from docgen.club.catalogue import ENGLISH, catalogue_path, languages
from docgen.club.words import Words
from docgen.sheets.jinja import template_folder
from docgen.sheets.tables import FINDINGS_NOTE
from tools.catalogue import updated
from tools.wordlist import CODE, SAID_BY, all_words, in_python, in_svg

OTHERS = [language for language in languages() if language != ENGLISH]


def read(language: str) -> Catalog:
    with catalogue_path(language).open("rb") as file:
        return read_po(file, locale=language.replace("-", "_"), abort_invalid=True)


def test_english_and_german_are_there() -> None:
    assert {"en", "de"} <= set(languages())


@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_has_every_word_and_no_other(language: str) -> None:
    held = {(message.context or "", message.id) for message in read(language) if message.id}
    said = set(all_words())
    hint = f"run: python -m tools.catalogue {language}"
    assert len(said) > 600
    assert sorted(said - held) == [], hint
    assert sorted(held - said) == [], hint


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_is_translated_and_nobody_doubts_it(language: str) -> None:
    messages = [message for message in read(language) if message.id]
    assert [message.id for message in messages if not message.string or message.fuzzy] == []
    assert list(read(language).obsolete) == []


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_filled_in_is_the_same_in_every_language(language: str) -> None:
    wrong = [
        message.id
        for message in read(language)
        if message.id and sorted(_braces(str(message.id))) != sorted(_braces(str(message.string)))
    ]
    assert wrong == []


def _braces(text: str) -> list[str]:
    return re.findall(r"\{[^{}]*\}", text)


@pytest.mark.parametrize("language", languages())
def test_what_the_sheet_tells_to_write_for_no_findings_counts_as_none(language: str) -> None:
    w = Words.speaking(language)
    assert w("none") in w(FINDINGS_NOTE)


def test_what_is_filled_in_has_a_name() -> None:
    named = {text: [name for _, name, _, _ in Formatter().parse(text) if name is not None] for _, text in all_words()}
    assert {text: names for text, names in named.items() if not all(name.isidentifier() for name in names)} == {}
    assert sum(map(len, named.values())) > 150


def test_the_words_of_a_module_are_found_wherever_they_are_said() -> None:
    code = '''
def shown(w, self, at):
    """w("not this one")"""
    yield w("one"), f"{w('two', x=w('three'))}: {self.words('four')}", (w("five" if at else "six") for _ in at)
    yield w.pgettext("here", "seven"), w(TABLE[at]), w(at), w(
        "eight "
        "and nine"
    )
TABLE = {"a": message("ten")}
'''
    found = [(name, texts) for _, name, texts, _ in in_python(BytesIO(code.encode()), SAID_BY, (), {})]
    said = {("w", (text,)) for text in ("one", "two", "three", "five", "six", None, "eight and nine")}
    assert set(found) == said | {("words", ("four",)), ("pgettext", ("here", "seven")), ("message", ("ten",))}


def test_what_says_a_word_has_a_name_that_the_extraction_knows() -> None:
    """A word that something of another name says would be in no catalogue. What is English for itself says none."""
    named = re.compile(r"(\w+): Words\b|(\w+) = Words(?:\.speaking)?\(|def (\w+)\(.*\) -> Words:")
    texts = [path.read_text("utf-8") for path in sorted(CODE.rglob("*.py"))]
    code = "\n".join(text for text in texts if "docgen.club.words import" in text)
    found = Counter("".join(names) for names in named.findall(code))
    assert found.keys() == {"w", "words", "words_of", "IN_ENGLISH", "_ENGLISH"}
    assert found["w"] + found["words"] > 150
    assert re.findall(r"\w*_ENGLISH\(", code) == []


def test_the_words_of_a_drawing_are_found() -> None:
    svg = """<svg xmlns="http://www.w3.org/2000/svg"><g id="a"><title>tick</title><g data-word="good">
    <text class="place">top</text><text class="word">pump</text><text class="callout">vent</text></g></g></svg>"""
    found = [texts for _, _, texts, _ in in_svg(BytesIO(svg.encode()), SAID_BY, (), {})]
    assert found == [("tick",), ("good",), ("pump",), ("vent",)]


def test_a_catalogue_is_brought_up_to_date_and_keeps_what_it_has() -> None:
    old = read("de")
    before = {(message.context, message.id): message.string for message in old if message.id}
    del old["Bench leaf"]
    old.add("Waiting time", "Wartezeit")  # said once, with an s now
    old.delete("Waiting times")
    made = updated(old, "de")
    after = {(message.context, message.id): message.string for message in made if message.id}
    doubtful = {message.id for message in made if message.id and (message.fuzzy or not message.string)}
    assert after.keys() == before.keys()
    assert doubtful == {"Bench leaf", "Waiting times"}
    assert after[None, "Waiting times"] == "Wartezeit"
    assert {key for key in before if before[key] != after[key]} == {(None, "Bench leaf"), (None, "Waiting times")}


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
