"""Small pages to print, and the tools that look at them."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from docgen.press.meta import Order, Pressed
from docgen.press.render import render as rendered

WHEN = datetime(2026, 1, 18, 12, 30, tzinfo=UTC)
META: dict[str, Any] = {
    "title": "Clutch service", "author": "A. Preparer", "subject": "Engine 007", "keywords": ("clutch", "007"),
    "language": "en", "created": WHEN, "identifier": "007-CLU-4-1",
}  # fmt: skip
"""What a document says of itself."""
PAPER = "@page { size: 100mm 80mm; margin: 10mm } "


def html(body: str) -> str:
    return f"<!doctype html><html><body>{body}</body></html>"


def render(html: str, css: str = PAPER, **more: Any) -> Pressed:
    """A page printed by itself."""
    return rendered(Order(key="", html=html, css=css, **(META | more)))


@pytest.fixture
def page() -> Callable[..., Pressed]:
    """Print a page from its body: 100 x 80 mm with margins of 10 mm, unless its CSS says otherwise."""

    def printed(body: str, css: str = "", **more: Any) -> Pressed:
        return render(html(body), PAPER + css, **more)

    return printed


@pytest.fixture
def run() -> Callable[..., str]:
    """Run a tool that must succeed; its output."""

    def ran(*command: str | Path) -> str:
        done = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=False)
        assert done.returncode == 0, (command, done.stdout, done.stderr)
        assert done.stderr == "", (command, done.stderr)
        return done.stdout

    return ran


@pytest.fixture
def raster(tmp_path: Path, run: Callable[..., str]) -> Callable[..., np.ndarray]:
    """One page of a PDF as poppler draws it: rows of grey values, 0 black to 255 white."""

    def drawn(pdf: bytes, dpi: int, number: int = 1) -> np.ndarray:
        (tmp_path / "raster.pdf").write_bytes(pdf)
        out = tmp_path / "raster"
        run("pdftoppm", "-r", str(dpi), "-gray", "-singlefile", "-f", str(number), tmp_path / "raster.pdf", out)
        return np.asarray(Image.open(out.with_suffix(".pgm")))

    return drawn
