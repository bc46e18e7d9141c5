"""Pages as small grey pictures in text, and a contact sheet of all of them.

To accept what the pages look like now, after a look at out/contact-sheet.png (CI never runs this):
    .venv/bin/python -m tests.paper.page_images --accept
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from math import ceil
from pathlib import Path
from typing import Any

import numpy as np
import pymupdf
from PIL import Image

from tests.demo.conftest import ROOT, _printed

ACCEPTED = Path(__file__).with_name("pages.txt")
SAMPLE = [
    (engine, job, sheet)
    for engine, job in (
        ("023", "clutch-service"),
        ("023", "carburettor-service"),
        ("038", "spark-plug-renewal"),
        ("042", "reed-inspection"),
    )
    for sheet in ("leaf", "sign-off")
]
ACROSS, DOWN, DPI = 14, 20, 40


def grey(page: pymupdf.Page, dpi: int = DPI) -> Any:
    """A page in grey, 0 black to 255 white."""
    pixels = page.get_pixmap(dpi=dpi, colorspace=pymupdf.csGRAY)
    return np.frombuffer(pixels.samples, np.uint8).reshape(pixels.height, pixels.stride)[:, : pixels.width]


def means(page: pymupdf.Page) -> Any:
    """The mean grey of each of 14 by 20 blocks of a page."""
    pixels = grey(page).astype(float)
    rows = np.linspace(0, pixels.shape[0], DOWN + 1).astype(int)[:-1]
    columns = np.linspace(0, pixels.shape[1], ACROSS + 1).astype(int)[:-1]
    sums = np.add.reduceat(np.add.reduceat(pixels, rows, 0), columns, 1)
    areas = np.outer(np.diff([*rows, pixels.shape[0]]), np.diff([*columns, pixels.shape[1]]))
    return np.rint(sums / areas).astype(int)


def pages() -> Iterator[tuple[str, pymupdf.Page]]:
    """Every page of the sample under its name."""
    for engine, job, sheet in SAMPLE:
        with pymupdf.open(stream=_printed(engine, job, sheet)) as document:
            for page in document:
                yield f"{engine} {job} {sheet} {page.number + 1}", page


def accepted() -> dict[str, Any]:
    """The pages as they were accepted."""
    found = {}
    for block in ACCEPTED.read_text("utf-8").strip().split("\n\n"):
        name, *rows = block.splitlines()
        found[name] = np.array([[int(row[n : n + 2], 16) for n in range(0, len(row), 2)] for row in rows])
    return found


def main() -> None:
    """Write the contact sheet; with --accept, take its pages for right."""
    texts, pictures = [], []
    for name, page in pages():
        rows = ["".join(f"{value:02x}" for value in row) for row in means(page)]
        texts.append("\n".join((name, *rows)))
        pictures.append(Image.fromarray(grey(page).copy()))
    width, height = (max(picture.size[n] for picture in pictures) + 8 for n in (0, 1))
    sheet = Image.new("L", (8 * width, ceil(len(pictures) / 8) * height), 160)
    for n, picture in enumerate(pictures):
        sheet.paste(picture, (n % 8 * width + 4, n // 8 * height + 4))
    (ROOT / "out").mkdir(exist_ok=True)
    sheet.save(ROOT / "out" / "contact-sheet.png", optimize=True)
    if "--accept" in sys.argv:
        ACCEPTED.write_text("\n\n".join(texts) + "\n", "utf-8")


if __name__ == "__main__":
    main()
