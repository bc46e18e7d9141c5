"""The due board measured from its PDF: bars as long as what is used, type as its distance asks, 3 engines and many.

Source: characters at least 0.004 of the reading distance high (NUREG-0700 rev. 3).
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pymupdf
import pytest

from docgen.plan.board import Board, board
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.board import Sizes, board_page
from docgen.sheets.drawings.plot import BEYOND
from docgen.sheets.measure import scale_for
from docgen.sheets.page import PAPERS
from tests.demo.conftest import ON, _club
from tests.shares import share

MM = 25.4 / 72
CAP_HEIGHT = 0.668
MANY = share(18, 60)
MOST = {"A3": share(4, 15), "A4": share(10, 31)}
CASES = [(3, "A3", 1), (3, "A4", 2), (9, "A3", 2), (9, "A4", 5), *((MANY, *most) for most in MOST.items())]
"""Engines, paper, and the most pages that they may take. At the least type, three engines fill an A3 page.

Sixty on A4 took 28 pages until the forecast of wear had the gauge in it: since then engine 004, which stands here seven
times, has a fourth note (its outer thrust washer), and with it no neighbour fits beside it. Without that note it is 28.
"""


@cache
def of(count: int) -> Board:
    """The demo's board with so many engines: the first few, or all of them again and again under other numbers."""
    found = board(_club(), ON)
    more = [replace(found.engines[n % 9], engine=f"{100 + n}") for n in range(9, count)]
    many = [*found.engines[: min(count, 9)], *more]
    return replace(found, engines=tuple(many))


@cache
def pressed(count: int, paper: str) -> pymupdf.Document:
    club = _club().club
    assert club is not None
    page = board_page(of(count), club.value, PAPERS[paper])
    outcome = press(plain_order("board", page, "Club", ON, ()))
    assert outcome.pressed is not None, outcome.faults
    return pymupdf.open(stream=outcome.pressed.pdf)


@pytest.mark.parametrize(("count", "paper", "pages"), CASES)
def test_it_lies_on_its_long_side_and_continues_where_it_must(count: int, paper: str, pages: int) -> None:
    document = pressed(count, paper)
    wide, high = PAPERS[paper].across.width, PAPERS[paper].across.height
    for page in document:
        assert (page.rect.width * MM, page.rect.height * MM) == pytest.approx((wide, high), abs=0.1)
    assert 1 <= document.page_count <= pages
    assert (document.page_count == 1) == (pages == 1)


@pytest.mark.parametrize(("count", "paper", "pages"), CASES)
def test_no_type_is_smaller_than_its_distance_allows(count: int, paper: str, pages: int) -> None:
    sizes = [
        span["size"] * MM
        for page in pressed(count, paper)
        for block in page.get_text("dict")["blocks"]
        for line in block.get("lines", [])
        for span in line["spans"]
        if span["text"].strip()
    ]
    assert len(sizes) > 100
    assert min(sizes) * CAP_HEIGHT >= 0.004 * 600 - 0.005


@pytest.mark.parametrize(("count", "paper", "pages"), CASES)
def test_every_engine_has_one_block_in_the_order_of_the_board(count: int, paper: str, pages: int) -> None:
    numbers = []
    for page in pressed(count, paper):
        for block in page.get_text("dict")["blocks"]:
            for line in block.get("lines", []):
                numbers += [(page.number, round(span["bbox"][1]), span["text"].strip()) for span in line["spans"]
                            if span["size"] * MM > 10]  # fmt: skip
    assert [text for _, _, text in sorted(numbers)] == [one.engine for one in of(count).engines]


@pytest.mark.parametrize(("count", "paper", "pages"), CASES)
def test_the_first_of_more_pages_shows_all_engines(count: int, paper: str, pages: int) -> None:
    document = pressed(count, paper)
    first = document[0].get_text()
    assert ("All engines, what comes first first" in first) == (document.page_count > 1)
    if document.page_count > 1:
        assert all(one.engine in first for one in of(count).engines)


@pytest.mark.parametrize("paper", ["A3", "A4"])
def test_bars_are_as_long_as_what_is_used(paper: str) -> None:
    club = _club().club
    assert club is not None
    limit = Sizes(PAPERS[paper].across, scale_for(club.value.bench_distance)).bar / BEYOND
    wanted = sorted(
        round(min(float(bar.scale.used / bar.scale.allowed), BEYOND) * limit, 2)
        for one in of(9).engines
        for bar in one.bars
        if bar.scale.used
    )
    drawn = sorted(
        round(d["rect"].width * MM, 2)
        for page in pressed(9, paper)
        for d in page.get_drawings()
        if d["type"] == "f" and d["fill"] == (0.0, 0.0, 0.0) and abs(d["rect"].height * MM - 1.3 * 3.594 * 0.64) < 0.05
    )
    key = round(0.45 * 26.0 / BEYOND, 2)  # the small bar in each page's foot that explains the others
    for _ in pressed(9, paper):
        drawn.remove(min(drawn, key=lambda width: abs(width - key)))
    assert len(wanted) > 40
    assert drawn == pytest.approx(wanted, abs=0.1)


def test_it_reads_in_grey_and_says_every_state_in_words_too() -> None:
    document = pressed(9, "A3")
    colours = {
        tuple(round(c, 3) for c in colour)
        for page in document
        for d in page.get_drawings()
        for colour in (d["fill"], d["color"])
        if colour is not None
    }
    assert all(len(set(colour)) == 1 for colour in colours), "only greys"
    text = " ".join(word for page in document for word in page.get_text().split())
    assert text.count("Overdue ·") == sum(one.state == "overdue" for one in of(9).engines)
    assert text.count("Due ·") == sum(one.state == "due" for one in of(9).engines)
    over = sum(bar.state == "overdue" for one in of(9).engines for bar in one.bars)
    assert text.count(" now") == over + document.page_count


def test_the_season_is_on_it() -> None:
    text = " ".join(pressed(3, "A4")[0].get_text().split()).replace("\xa0", " ")
    assert "1 Round 1 - Kestrel Mere, 4 April 2027" in text
    assert "6 Round 6 - Slate Hollow, 8 August 2027" in text
