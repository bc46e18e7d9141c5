"""Sheets pressed once for all tests, and the tools that look at them: poppler, Pillow, SciPy, zxing-cpp."""

from __future__ import annotations

import io
import re
import subprocess
from dataclasses import dataclass
from functools import cache
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from docgen.job.job import Job
from docgen.press.meta import Pressed
from docgen.press.orders import order
from docgen.press.workers import printed
from docgen.sheets.leaf import leaf
from docgen.sheets.page import Page
from docgen.sheets.signoff import signoff
from tests.sheets.sample import sample_club, sample_job

DPI = 150
PT = 25.4 / 72


def press(page: Page, job: Job, *, forms: bool = False) -> Pressed:
    """Print a page as the commands do."""
    made = order("test", page, job, "Quarry Lane Kart Club", forms=forms)
    return printed(made)


@dataclass(frozen=True)
class Word:
    """A word as poppler finds it; mm from the page's upper left corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    @property
    def size(self) -> float:
        """Type size in mm: poppler's box spans the typeface's ascent and descent, 0.95 + 0.29 em."""
        return (self.bottom - self.top) / 1.24


@dataclass(frozen=True)
class Seen:
    """A printed sheet as others see it."""

    pdf: bytes
    pages: int
    sizes: tuple[tuple[float, float], ...]

    def pixels(self, page: int, dpi: int = DPI) -> Any:
        """A page in grey, 0 black to 255 white."""
        done = subprocess.run(
            ["pdftoppm", "-r", str(dpi), "-gray", "-f", str(page), "-l", str(page), "-"],
            input=self.pdf,
            capture_output=True,
            check=True,
        )
        return np.asarray(Image.open(io.BytesIO(done.stdout)))

    def words(self, page: int) -> list[Word]:
        """The words of a page in reading order."""
        done = subprocess.run(
            ["pdftotext", "-bbox", "-f", str(page), "-l", str(page), "-", "-"],
            input=self.pdf,
            capture_output=True,
            check=True,
        )
        text = re.sub(r'\sxmlns="[^"]+"', "", done.stdout.decode(), count=1)
        root = ElementTree.fromstring(text)
        found = [
            Word(w.text or "", *(float(w.get(k, "")) * PT for k in ("xMin", "yMin", "xMax", "yMax")))
            for w in root.iter("word")
        ]
        assert found, f"page {page} has no words"
        return found

    def text(self, page: int) -> str:
        """The text of a page, single blanks between words."""
        return " ".join(word.text for word in self.words(page)).replace("\u00a0", " ")


def open_boxes(pixels: Any, side: float) -> list[tuple[float, float]]:
    """White squares with a closed border round them, by left and top in mm; `side` is the border's outer side in mm.

    Measured from the pixels: regions of white, near square, whose width is that of the box less its border.
    """
    mm = 25.4 / DPI
    regions, _ = ndimage.label(pixels > 140)
    found = []
    for number, (rows, columns) in enumerate(ndimage.find_objects(regions), 1):
        if np.mean(regions[rows, columns] == number) < 0.95:
            continue
        height, width = (rows.stop - rows.start) * mm, (columns.stop - columns.start) * mm
        if abs(height - width) < 0.5 and side - 1.8 < width < side - 0.2:
            found.append((columns.start * mm, rows.start * mm))
    return found


@cache
def seen(sheet: str, paper: str = "A4", distance: str = "700 mm") -> Seen:
    """The sample job's leaf or sign-off sheet, printed."""
    job, club = sample_job(), sample_club(paper, distance)
    page = leaf(job, club) if sheet == "leaf" else signoff(job, club)
    made = press(page, job, forms=sheet == "sign-off")
    return Seen(made.pdf, made.pages, made.sizes)


@pytest.fixture(params=["A4", "Letter"])
def bench(request: pytest.FixtureRequest) -> Seen:
    """The bench leaf, on each paper."""
    return seen("leaf", request.param)


@pytest.fixture(params=["A4", "Letter"])
def signed(request: pytest.FixtureRequest) -> Seen:
    """The sign-off sheet with its form fields, on each paper."""
    return seen("sign-off", request.param)
