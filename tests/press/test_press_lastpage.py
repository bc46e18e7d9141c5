"""A last page that is nearly empty, measured on the finished page: 100 x 80 mm with margins of 10 mm, 60 mm of text."""

from __future__ import annotations

import io

import pymupdf
import pytest

from docgen.press.render import Pressed, render
from tests.press.conftest import META, PAPER

CSS = """
body { margin: 0 } p, div { margin: 0 } div { height: 9mm; margin-bottom: 3mm; break-inside: avoid } h2 { margin: 0 }
.tight div { margin-bottom: 2mm } .tighter div { margin-bottom: 1mm }
"""


def texts(count: int, asks: str = "20 %", css: str = "", heading: int = 0) -> list[list[str]]:
    """The words of each page of so many blocks, 12 mm each: five a page, six when they are set tighter."""
    body = "".join(f"<div>{'<h1>head</h1>' if n == heading else f'b{n}'}</div>" for n in range(1, count + 1))
    html = f'<!doctype html><html><body class="own" data-last-page="{asks}">{body}</body></html>'
    pressed: Pressed = render(html, css=PAPER + CSS + css, meta=META)
    with pymupdf.open(stream=io.BytesIO(pressed.pdf)) as document:
        return [page.get_text().split() for page in document]


def blocks(*parts: range) -> list[list[str]]:
    return [[f"b{n}" for n in part] for part in parts]


def test_it_is_saved_by_setting_the_sheet_tighter() -> None:
    assert texts(6, asks="") == blocks(range(1, 6), range(6, 7))
    assert texts(6) == blocks(range(1, 7))
    assert texts(11) == blocks(range(1, 7), range(7, 12))


def test_it_is_left_alone_where_it_is_filled_far_enough() -> None:
    assert texts(7) == blocks(range(1, 6), range(6, 8))
    assert texts(6, asks="15 %") == blocks(range(1, 6), range(6, 7))
    assert texts(5) == blocks(range(1, 6))


def test_it_begins_earlier_where_no_page_can_be_saved() -> None:
    loose = ".tight div, .tighter div { margin-bottom: 3mm }"
    assert texts(11, asks="30 %", css=loose) == blocks(range(1, 6), range(6, 10), range(10, 12))


def test_it_begins_at_a_heading_where_one_fills_it_far_enough() -> None:
    loose = ".tight div, .tighter div { margin-bottom: 3mm } h1 { font-size: 8pt; margin: 0 }"
    first, second, third = texts(11, asks="30 %", css=loose, heading=9)
    assert (first, second, third) == (
        ["b1", "b2", "b3", "b4", "b5"], ["b6", "b7", "b8"], ["head", "b10", "b11"],
    )  # fmt: skip
    # One that would leave less on the page before than a quarter does not count.
    assert texts(11, asks="30 %", css=loose, heading=7)[2] == ["b10", "b11"]


def test_what_is_not_fit_to_print_when_it_is_tighter_stays_as_it_was() -> None:
    """Blocks that would lie over one another: the press finds it, and only begins the page earlier."""
    assert texts(6, css=".tight div { margin-bottom: -8mm }") == blocks(range(1, 5), range(5, 7))


def test_the_same_input_gives_the_same_bytes() -> None:
    html = f'<!doctype html><html><body data-last-page="20 %">{"<div>b</div>" * 6}</body></html>'
    first, second = (render(html, css=PAPER + CSS, meta=META) for _ in range(2))
    assert first.pages == 1
    assert first.pdf == second.pdf


@pytest.mark.parametrize("nonsense", ["much", "-5 %", "20", "20 px", ""])
def test_what_asks_for_nonsense_stays_as_it_is(nonsense: str) -> None:
    assert texts(6, asks=nonsense) == blocks(range(1, 6), range(6, 7))
