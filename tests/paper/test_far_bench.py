"""A leaf read from farther away: its smallest character, in drawings too, measured from the PDF by poppler.

Source: character height 0.004 x distance (NUREG-0700 rev 3, copy).
"""

from __future__ import annotations

import pymupdf
import pytest

from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.trade.quantity import parse_quantity
from tests.demo.conftest import _club, _job
from tests.paper.test_demo_measured import CAP_HEIGHT
from tests.shares import share
from tests.sheets.conftest import Seen

FAR = [("top-end", 800), ("clutch-service", 700), ("top-end", 700), ("clutch-service", 800)]
"""In an everyday run each job and each distance once."""


@pytest.mark.parametrize(("procedure", "distance"), FAR[: share(2, 4)])
def test_figures_in_drawings_grow_with_the_distance(procedure: str, distance: int) -> None:
    club = _club().club
    assert club is not None
    far = club.value.model_copy(update={"bench_distance": parse_quantity(f"{distance} mm")})
    job = _job("023", procedure)
    outcome = press(order("test", leaf(job, far), job, far.club))
    assert outcome.pressed is not None, outcome.faults
    pdf, drawn = outcome.pressed.pdf, 0
    with pymupdf.open(stream=pdf) as document:
        made = Seen(pdf, len(document), ())
    for page in range(1, made.pages + 1):
        words = made.words(page)
        assert min(word.size for word in words) * CAP_HEIGHT >= 0.004 * distance - 0.02, f"page {page}"
        drawn += sum(word.text in "123456" and word.left > 45 for word in words)
    assert drawn > 4
