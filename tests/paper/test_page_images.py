"""Every page of the demo sample looks as it did when somebody last looked at it (tests/paper/page_images.py)."""

from __future__ import annotations

import numpy as np
import pymupdf

from tests.demo.conftest import _printed
from tests.paper.page_images import accepted, grey, pages, small

TOLERANCE = 4
"""Greatest difference of a block's mean, of 255: rounding, and another build of the library that draws."""


def test_every_page_looks_as_accepted() -> None:
    known, seen = accepted(), {name: small(pixels) for name, pixels in pages()}
    assert sorted(seen) == sorted(known)
    assert len(seen) >= 12
    changed = [name for name, now in seen.items() if differs(now, known[name])]
    assert changed == [], "look at each page in out/pages, then: .venv/bin/python -m tests.paper.page_images --accept"


def test_one_digit_of_a_figure_is_seen() -> None:
    """34 N.m becomes 84 N.m: one digit of the leaf's own size, in its own place."""
    with pymupdf.open(stream=_printed("023", "clutch-service", "leaf")) as document:
        page = document[1]
        before = small(grey(page))
        place = page.search_for("34\u00a0N·m")[0]
        size = page.get_text("dict", clip=place)["blocks"][0]["lines"][0]["spans"][0]["size"]
        digit = pymupdf.Rect(place.x0, place.y0, place.x0 + 0.56 * size, place.y1)
        page.draw_rect(digit, color=None, fill=(0.92, 0.92, 0.92))
        page.insert_text((place.x0, place.y1 - 0.2 * size), "8", fontsize=size, fontname="hebo")
        assert differs(small(grey(page)), before)


def differs(now: np.ndarray, before: np.ndarray) -> bool:  # type: ignore[type-arg]
    """Whether some block of a page is not what it was."""
    return now.shape != before.shape or int(np.abs(now.astype(int) - before).max()) > TOLERANCE
