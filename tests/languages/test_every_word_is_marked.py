"""A language that nobody speaks: every word of the catalogue in it is turned to Greek letters, so that any Latin word
left on a German sheet comes from the club's files, or was written into the program and is in no catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import pytest
from babel.dates import get_month_names
from pydantic import BaseModel

from docgen.club import words
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.translation import spoken
from docgen.club.words import Words
from docgen.job.figures import Figures
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.plan.kit import kit_of
from docgen.plan.laydown import laydown
from docgen.plan.standing import standing
from docgen.sheets.card import card
from docgen.sheets.drawings import chosen
from docgen.sheets.kitlist import kit_list
from docgen.sheets.leaf import leaf
from docgen.sheets.mat import mat
from docgen.sheets.matpage import Compartments, box
from docgen.sheets.page import Page
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff
from tests.shares import share
from tools.wordlist import all_words

ROOT, ON = Path(__file__).resolve().parents[2], date(2027, 2, 20)
LATIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
GREEK = str.maketrans(LATIN, "αβψδεφγηιξκλμνοπθρστυωςχυζΑΒΨΔΕΦΓΗΙΞΚΛΜΝΟΠΘΡΣΤΥΩςΧΥΖ")
MONTHS = get_month_names("wide", locale="de").values()
UNITS = ("mm", "cm", "min", "bar", "ml", "lbf", "in", "ft")
NEUTRAL = frozenset(word.casefold() for word in (*UNITS, *MONTHS, "cc", "by", "plu"))
"""Units and signs that are the same in both languages, the codes of sheets and licences, and the months of dates."""


def greek(text: str) -> str:
    """A word of the catalogue in Greek letters; what is filled in stays."""
    return "".join(part if part.startswith("{") else part.translate(GREEK) for part in re.split(r"(\{[^{}]*\})", text))


@cache
def german() -> Folder:
    return spoken(read_club(ROOT), "de")


@cache
def nobodys() -> Words:
    return Words("de", {(context, text): greek(text) for context, text in all_words()})


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch) -> Folder:
    """The demo club in German, but for the program's words, which are Greek."""
    monkeypatch.setattr(words, "_SPOKEN", {"de": nobodys()})
    monkeypatch.setattr(chosen, "_KNOWN", {})  # drawings that an earlier test made, with German words
    return german()


def pages(folder: Folder, number: str) -> Iterator[tuple[str, Page]]:
    club, record, read = folder.club.value, folder.engines[number], folder.procedures["spark-plug-renewal"]
    job = resolve(folder, record, read, ON)
    told, model = job.instructions, folder.models[record.engine.model].value
    laid = laydown(folder, read, Figures(club, model, state_of(record, ON)))
    yield "leaf", leaf(job, club)
    yield "sign-off", signoff(job, club)
    yield "reading", reading(job, club)
    yield "kit", kit_list(kit_of([job], club, None), ON)
    yield "mat", mat(laid, told, club).page
    yield "box", box(laid, told, club, Compartments(3, 4))
    yield "card", card(standing(folder, record, ON), club)


class _Read(HTMLParser):
    """What a reader or a screen reader meets: text, titles and alternative texts; not what is marked as foreign."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self.open: list[bool] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag not in ("input", "img", "meta", "col", "br", "path", "rect", "line", "circle", "polyline", "polygon"):
            self.open.append(tag == "span" and "lang" in given)
        self.said += [given[name] or "" for name in ("title", "alt", "aria-label") if name in given]

    def handle_endtag(self, tag: str) -> None:
        if self.open:
            self.open.pop()

    def handle_data(self, data: str) -> None:
        if not any(self.open):
            self.said.append(data)


def _latin(texts: Iterable[str]) -> set[str]:
    return {word.casefold() for text in texts for word in re.findall(r"\b[A-Za-zÀ-ÖØ-öø-ɏ]{2,}\b", text)}


def _data(value: object) -> Iterator[str]:
    """Every text of the club's files as it was turned, and what its engines' records hold."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, BaseModel):
        yield from (text for part in value.__dict__.values() for text in _data(part))
    elif isinstance(value, Mapping):
        yield from (text for part in value.values() for text in _data(part))
    elif isinstance(value, (list, tuple)):
        yield from (text for part in value for text in _data(part))


def _names(model: BaseModel) -> Iterator[str]:
    """What a model calls its things, keys included."""
    for group in ("parts", "fasteners", "limits", "settings"):
        yield from _data(getattr(model, group))
        yield from (key.replace("-", " ") for key in getattr(model, group))


def _record(folder: Folder, number: str) -> Iterator[str]:
    """What is written of an engine, and of the club that keeps it."""
    record, club = folder.engines[number], folder.club.value
    model = folder.models[record.engine.model].value
    yield from _data(record.engine)
    yield from (text for _, event in record.log.happened for text in _data(event))
    yield from (club.club, model.title, model.manual, *_names(model))
    yield from _data((tuple(club.tools.values()), tuple(club.gauges.values()), club.season))


def _left(page: Page, given: set[str]) -> list[str]:
    reader = _Read()
    reader.feed(page.html)
    css = re.findall(r'content: ("[^"]*")', page.css)
    return sorted(_latin([*reader.said, page.title, *css]) - given - NEUTRAL)


@pytest.mark.parametrize("number", ["017", "021", "031"])
def test_no_word_of_the_program_is_in_no_catalogue(folder: Folder, number: str) -> None:
    """On every page of the job that is held in German: what is left in Latin letters stands in its files."""
    read = folder.procedures["spark-plug-renewal"].value
    used = {step.use for stage in read.stages for step in stage.steps if step.use}
    sequences = [folder.sequences[name].value for name in used]
    titles = [one.value.title for one in folder.procedures.values()]
    given = _latin((*_record(folder, number), *_data(read), *_data(sequences), *titles))
    found = {name: left for name, page in pages(folder, number) if (left := _left(page, given))}
    assert found == {}


@pytest.mark.parametrize("number", ["017", "021", "031"])
def test_no_figure_keeps_its_point(folder: Folder, number: str) -> None:
    """But those that people wrote into the record, of a licence (CC-BY-4.0), and of a regulation (14 CFR 91.421)."""
    typed = {"4.0", "91.421", *re.findall(r"\d+\.\d+", " ".join(_record(folder, number)))}
    found = {}
    for name, page in pages(folder, number):
        reader = _Read()
        reader.feed(page.html)
        svg = re.findall(r"<text[^>]*>([^<]*)</text>", page.html)
        points = re.findall(r"\d+\.\d+", " ".join((*reader.said, *svg)))
        if left := sorted(set(points) - typed):
            found[name] = left
    assert found == {}


@pytest.mark.parametrize("number", ["021", "017", "031", "055"][: share(2, 4)])
def test_nor_on_any_other_job(folder: Folder, number: str) -> None:
    """What other jobs print besides: deviations, seals, holds, waits, settings, wear. Their own texts are English."""
    record, club = folder.engines[number], folder.club.value
    own = [read.value for read in (*folder.procedures.values(), *folder.sequences.values())]
    given = _latin((*_record(folder, number), *_data(own), *_data(tuple(club.materials.values())),
                    *(name.replace("-", " ") for name in (*folder.procedures, *folder.sequences))))  # fmt: skip
    found: dict[str, list[str]] = {}
    made = 0
    for procedure in folder.for_model(folder.models[record.engine.model].value):
        job = resolve(folder, record, folder.procedures[procedure.procedure], ON)
        for page in (leaf(job, club), signoff(job, club), reading(job, club)):
            made += 1
            if left := _left(page, given):
                found[page.title] = left
    assert made > 30
    assert found == {}
