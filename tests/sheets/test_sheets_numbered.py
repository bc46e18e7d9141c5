"""Every page of a sheet bears its number and code, however long the job; more pages than have numbers are refused."""

from __future__ import annotations

from dataclasses import replace

import pymupdf
import pytest
import zxingcpp
from PIL import Image

from docgen.job.number import MOST_PAGES, SheetNumber, parse_number
from docgen.press.meta import PressError
from docgen.sheets.leaf import leaf
from tests.sheets.conftest import press
from tests.sheets.sample import sample_club, sample_job
from tests.sheets.test_sheets_awkward import LONG, steps


def test_each_of_many_pages_bears_its_own_number() -> None:
    job = sample_job(stages=steps(80, LONG))
    made = press(leaf(job, sample_club(distance="1000 mm")), job)
    assert 30 <= made.pages <= MOST_PAGES
    with pymupdf.open(stream=made.pdf) as document:
        for page in document:
            pixels = page.get_pixmap(dpi=100)
            picture = Image.frombytes("RGB", (pixels.width, pixels.height), pixels.samples)
            (code,) = zxingcpp.read_barcodes(picture)
            assert parse_number(code.text).page == page.number + 1
            text = page.get_text()
            assert code.text in text
            assert f"{page.number + 1} of {made.pages}" in text


def test_more_pages_than_can_be_numbered_are_refused() -> None:
    job = sample_job(stages=steps(40, LONG))
    page = leaf(job, sample_club(distance="1000 mm"))
    assert page.numbers is not None
    few = replace(page, numbers=replace(page.numbers, most=12))
    with pytest.raises(PressError, match=r"^\d\d pages, and only 12 can be numbered: part the job into two$"):
        press(few, job)


def test_pages_beyond_ninety_nine_have_numbers_that_can_be_typed() -> None:
    number = SheetNumber("017", "PRE", 4, 3, page=100)
    assert parse_number(number.text.lower()) == number
    assert number.body == "017-PRE-04-003-L100"
