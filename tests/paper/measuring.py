"""Measures of a finished PDF by tools that are not ours: contrast, codes, and what other programs say of the file."""

from __future__ import annotations

import contextlib
import io
import json
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import outloud
import pymupdf
import zxingcpp
from outloud.findings import Finding
from outloud.model import Document
from pdfua import cli as pdfua
from PIL import Image

from docgen.job.number import parse_number
from tests.sheets.conftest import Seen


def luminance(rgb: tuple[float, float, float]) -> float:
    """Relative luminance of an sRGB colour, 0 to 1 (WCAG 2)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgb]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: float, other: float) -> float:
    """Contrast ratio of two luminances (WCAG 2)."""
    return (max(one, other) + 0.05) / (min(one, other) + 0.05)


def text_contrasts(pdf: bytes) -> Iterator[tuple[int, str, float]]:
    """Page, text and contrast of each run of text against its ground, both turned to grey as a mono printer would."""
    with pymupdf.open(stream=pdf) as document:
        for page in document:
            pixels = page.get_pixmap(dpi=72, colorspace=pymupdf.csGRAY)
            grey = np.frombuffer(pixels.samples, np.uint8).reshape(pixels.height, pixels.stride)[:, : pixels.width]
            for block in page.get_text("dict")["blocks"]:
                for span in (s for line in block.get("lines", ()) for s in line["spans"] if s["text"].strip()):
                    x0, y0, x1, y1 = (round(v) for v in span["bbox"])
                    ground = np.bincount(grey[max(y0, 0) : y1 + 1, max(x0, 0) : x1 + 1].ravel()).argmax() / 255
                    rgb = tuple(((span["color"] >> shift) & 255) / 255 for shift in (16, 8, 0))
                    ink = luminance((rgb[0], rgb[1], rgb[2]))
                    yield page.number + 1, span["text"], contrast(ink, luminance((ground,) * 3))


def check_codes(made: Seen) -> None:
    """The codes of the first and the last page give that page's number, at 100 dpi and with noise."""
    noise = np.random.default_rng(7)
    for page in (1, made.pages):
        pixels = made.pixels(page, 100).astype(np.float32)
        dirty = np.clip(pixels + 20 * noise.standard_normal(pixels.shape, np.float32), 0, 255).astype(np.uint8)
        numbers = {code.text for code in zxingcpp.read_barcodes(Image.fromarray(dirty))}
        assert len(numbers) == 1
        assert parse_number(numbers.pop().split()[0]).page == page


def check_sound(pdf: bytes, folder: Path) -> None:
    """qpdf finds the file sound, and pdfua every rule of accessible documents kept."""
    file = folder / "sheet.pdf"
    file.write_bytes(pdf)
    subprocess.run(["qpdf", "--check", str(file)], capture_output=True, check=True)
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = pdfua.main(["check", "--format", "json", str(file)])
    assert code == 0, said.getvalue()[-800:]
    assert '"severity": "error"' not in said.getvalue()
    assert json.loads(said.getvalue())


FIRST = "manual, class rules, local codes and licensed practice come first."
"""What every sheet says of whose figures govern: spoken on its first page, and in the running foot, as furniture."""


def heard(file: Path) -> list[Finding]:
    """What outloud finds, but for the running foot: its number, other on each page, hides from outloud what it is."""
    found = outloud.check(str(file)).findings
    return [one for one in found if one.rule != "TAG-002" or not str(one.evidence).startswith("The engine maker")]


def spoken(file: Path, page: int) -> str:
    """The text of a page that a screen reader speaks, as outloud finds it: tagged, and no furniture."""
    runs = Document(str(file)).content(page - 1).runs
    return " ".join(" ".join(run.text for run in runs if run.tagged and not run.artifact).split())


def check_heard(pdf: bytes, folder: Path) -> None:
    """A screen reader speaks all that is not furniture, and whose figures come first."""
    file = folder / "heard.pdf"
    file.write_bytes(pdf)
    assert [str(one) for one in heard(file) if one.severity == "error"] == []
    assert FIRST in spoken(file, 1)
