"""Every page of the demo sample looks as it did when somebody last looked at it (tests/paper/page_images.py)."""

from __future__ import annotations

import numpy as np
import pymupdf

from tests.demo.conftest import _printed
from tests.paper.page_images import accepted, means, pages

TOLERANCE = 3
"""Greatest difference of a block's mean, of 255."""


def test_every_page_looks_as_accepted() -> None:
    known = accepted()
    seen = {name: means(page) for name, page in pages()}
    assert list(seen) == list(known)
    assert len(seen) > 30
    changed = [name for name, now in seen.items() if np.abs(now - known[name]).max() > TOLERANCE]
    assert changed == [], "look at out/contact-sheet.png, then: .venv/bin/python -m tests.paper.page_images --accept"


def test_a_small_change_is_seen() -> None:
    """A word of 12 points, a box of 5 mm or a missing line changes some block by more than the tolerance."""
    with pymupdf.open(stream=_printed("023", "clutch-service", "leaf")) as document:
        page = document[9]
        before = means(page)
        page.insert_text((300, 690), "again", fontsize=12)
        assert np.abs(means(page) - before).max() > TOLERANCE
    with pymupdf.open(stream=_printed("023", "clutch-service", "leaf")) as document:
        page = document[9]
        page.draw_rect((300, 690, 314, 704), width=1)
        assert np.abs(means(page) - before).max() > TOLERANCE
