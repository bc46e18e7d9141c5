"""A field that takes what is left of its page, measured on the finished page: 100 x 80 mm with margins of 10 mm."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from docgen.press.fields import Box, boxes
from docgen.press.grow import SPARE
from docgen.press.render import Pressed

CSS = """
h1 { margin: 0; height: 10mm; font-size: 10pt } p { margin: 0; height: 8mm }
textarea { display: block; box-sizing: border-box; width: 40mm; height: 15mm; margin: 0 }
div { break-before: page }
"""
BOTTOM = 70


def laid(page: Callable[..., Pressed], grow: str, after: str = "", before: str = "") -> tuple[int, Box]:
    asks = f'data-grow="{grow}"' if grow else ""
    body = f'<h1>Form</h1>{before}<textarea name="notes" title="Notes" {asks}></textarea>{after}'
    pressed = page(body, CSS, forms=True)
    (box,) = boxes(pressed.pdf)
    return pressed.pages, box


def test_it_takes_what_is_left_and_what_follows_stays_below_it(page: Callable[..., Pressed]) -> None:
    assert laid(page, "")[1].mm == pytest.approx((10, 20, 40, 15), abs=0.01)
    pages, box = laid(page, "90 mm")
    assert pages == 1
    assert box.mm == pytest.approx((10, 20, 40, BOTTOM - 20 - SPARE), abs=0.02)
    pages, box = laid(page, "90 mm", after="<p>Release</p>")
    assert pages == 1
    assert box.mm == pytest.approx((10, 20, 40, BOTTOM - 8 - 20 - SPARE), abs=0.02)


def test_it_takes_no_more_than_it_asked_for(page: Callable[..., Pressed]) -> None:
    assert laid(page, "22 mm")[1].mm == pytest.approx((10, 20, 40, 22), abs=0.02)
    assert laid(page, "12 mm")[1].mm == pytest.approx((10, 20, 40, 15), abs=0.02)


def test_a_full_page_leaves_it_as_it_is(page: Callable[..., Pressed]) -> None:
    assert laid(page, "90 mm", before="<p>x</p>" * 4)[0] == 1
    pages, box = laid(page, "90 mm", after="<p>x</p>" * 4)
    assert pages == 1
    assert box.mm[3] == pytest.approx(BOTTOM - 32 - 20 - SPARE, abs=0.02)
    pages, box = laid(page, "90 mm", after='<p style="height: 34.6mm">x</p>')
    assert (pages, box.mm[3]) == (1, pytest.approx(15, abs=0.02))


def test_only_its_own_page_counts(page: Callable[..., Pressed]) -> None:
    pages, box = laid(page, "90 mm", after="<div><p>Next page</p></div>")
    assert pages == 2
    assert (box.page, box.mm[3]) == (1, pytest.approx(BOTTOM - 20 - SPARE, abs=0.02))


def test_what_asks_for_nonsense_stays_as_it_is(page: Callable[..., Pressed]) -> None:
    for nonsense in ("much", "-5 mm", "90%", "90 px"):
        assert laid(page, nonsense)[1].mm[3] == pytest.approx(15, abs=0.02)
