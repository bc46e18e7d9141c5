"""Two pages side by side on one sheet, looked at by poppler, pdfua, qpdf and outloud's reading order."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest

from docgen.press.leaves import MARK
from docgen.press.render import Pressed

BIN = Path(sys.executable).parent
Page = Callable[..., Pressed]
CSS = (
    "p { break-after: page } .head { position: running(head) } "
    "@page { background: #eee; @top-left { content: element(head) } }"
)
BODY = '<div class="head">Engine 007</div><h1>Work</h1><p>One of three</p><p>Two of three</p><div>Three of three</div>'


@pytest.fixture
def pair(page: Page) -> tuple[Pressed, Pressed]:
    """The same three pages, each on a sheet of its own, and two by two."""
    return page(BODY, CSS), page(BODY, CSS, halves=True)


def test_each_half_looks_as_its_page_does_alone(pair: tuple[Pressed, Pressed], raster: Callable[..., Any]) -> None:
    single, double = pair
    assert (single.pages, double.pages) == (3, 2)
    assert set(double.sizes) == {(200.0, 80.0)}
    dpi = 254
    edge, margin = int(MARK * 10) + 2, 3
    for number in (1, 2, 3):
        alone = raster(single.pdf, dpi, number)
        sheet = raster(double.pdf, dpi, (number + 1) // 2)
        half = (sheet if number % 2 else sheet[:, 1000:])[edge:-edge, margin : 1000 - margin]
        differs = np.abs(half.astype(int) - alone[edge:-edge, margin : 1000 - margin]) > 64
        assert np.mean(differs) < 0.0005, f"page {number}"


def test_cut_marks_stand_on_the_middle_at_both_edges_and_nowhere_else(
    pair: tuple[Pressed, Pressed], raster: Callable[..., Any]
) -> None:
    pixels = raster(pair[1].pdf, 254)
    middle, rows = pixels.shape[1] // 2, pixels.shape[0]
    dark = np.flatnonzero(pixels[:, middle - 1 : middle + 1].min(axis=1) < 100)
    assert dark.min() == 0
    assert dark.max() >= rows - 2
    assert len(dark) == pytest.approx(2 * MARK * 10, abs=3)


def test_an_empty_half_stays_empty(pair: tuple[Pressed, Pressed], raster: Callable[..., Any]) -> None:
    pixels = raster(pair[1].pdf, 100, 2)
    assert np.all(pixels[:, pixels.shape[1] // 2 + 2 :] == 255)


def test_it_is_read_left_then_right_and_stays_accessible(
    pair: tuple[Pressed, Pressed], run: Callable[..., str], tmp_path: Path
) -> None:
    file = tmp_path / "sheet.pdf"
    file.write_bytes(pair[1].pdf)
    run("qpdf", "--check", file)
    assert '"severity": "error"' not in run(BIN / "pdfua", "check", "--format", "json", file)
    tags = run("pdfinfo", "-struct-text", file)
    said = [line.strip().strip('"') for line in tags.splitlines() if line.strip().startswith('"')]
    assert said == ["Work", "One of three", "Two of three", "Three of three"]


def test_a_figure_on_the_right_says_where_it_is(page: Page) -> None:
    drawing = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10">'
    drawing += '<title>a bar</title><rect width="20" height="10"/></svg>'
    made = page(f'<h1>Work</h1><p style="break-after: page">one</p>{drawing}', halves=True)
    with pikepdf.open(io.BytesIO(made.pdf)) as document:
        found = [
            [float(v) for v in item.A.BBox]
            for item in document.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Figure"
        ]
    assert len(found) == 1
    left, _, right, _ = (value * 25.4 / 72 for value in found[0])
    assert (left, right) == (pytest.approx(110, abs=0.1), pytest.approx(130, abs=0.1))


def test_pages_of_different_sizes_are_refused(page: Page) -> None:
    css = "@page wide { size: 120mm 80mm } div { page: wide; break-before: page }"
    with pytest.raises(ValueError, match="pages of different sizes cannot lie side by side"):
        page("<h1>Work</h1><div>wide</div>", css, halves=True)


def test_fields_are_refused_on_halves(page: Page) -> None:
    with pytest.raises(ValueError, match="fields cannot stand on pages that share a sheet"):
        page('<h1>Work</h1><input name="a" title="a">', forms=True, halves=True)


def test_the_same_bytes_every_time(page: Page) -> None:
    assert page(BODY, CSS, halves=True).pdf == page(BODY, CSS, halves=True).pdf
