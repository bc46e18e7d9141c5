"""Pages as grey pictures to look at, and as small ones to hold the next print against.

To accept what the pages look like now, after a look at each of them in out/pages (CI never runs this):
    .venv/bin/python -m tests.paper.page_images --accept
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pymupdf
from PIL import Image

from tests.demo.conftest import ROOT, _printed

ACCEPTED = Path(__file__).with_name("pages")
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
DPI, BLOCK = 100, 10
"""Dots an inch that a page is drawn with, and how many of them, each way, are one of its small picture: 2.5 mm."""


def pages() -> Iterator[tuple[str, Any]]:
    """Every page of the sample in grey, 0 black to 255 white, under its name."""
    for engine, job, sheet in SAMPLE:
        with pymupdf.open(stream=_printed(engine, job, sheet)) as document:
            for page in document:
                yield f"{engine}-{job}-{sheet}-{page.number + 1}", grey(page)


def grey(page: pymupdf.Page) -> Any:
    """A page as it is drawn."""
    pixels = page.get_pixmap(dpi=DPI, colorspace=pymupdf.csGRAY)
    return np.frombuffer(pixels.samples, np.uint8).reshape(pixels.height, pixels.stride)[:, : pixels.width].copy()


def small(pixels: Any) -> Any:
    """The mean grey of each block."""
    down, across = (size // BLOCK for size in pixels.shape)
    blocks = pixels[: down * BLOCK, : across * BLOCK].reshape(down, BLOCK, across, BLOCK)
    return np.rint(blocks.mean(axis=(1, 3))).astype(np.uint8)


def accepted() -> dict[str, Any]:
    """The pages as they were accepted, small."""
    return {path.stem: np.array(Image.open(path)) for path in sorted(ACCEPTED.glob("*.png"))}


def main() -> None:
    """Write the pages to out/pages; with --accept, take them for right."""
    for folder in (ROOT / "out" / "pages", *([ACCEPTED] if "--accept" in sys.argv else [])):
        folder.mkdir(parents=True, exist_ok=True)
        for path in folder.glob("*.png"):
            path.unlink()
        for name, pixels in pages():
            picture = small(pixels) if folder == ACCEPTED else pixels
            Image.fromarray(picture).save(folder / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
