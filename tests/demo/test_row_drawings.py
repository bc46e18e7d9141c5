"""A row of the bench leaf shows a picture once, however many of its looks name it; a stack stands before its stage."""

from __future__ import annotations

from collections.abc import Callable

import pymupdf
import pytest

from docgen.club.words import Words
from docgen.job.job import Job, JobRow
from docgen.job.marks import LookMark
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.sheets.leaf_rows import drawn
from docgen.sheets.measure import scale_for
from docgen.trade.quantity import parse_quantity
from tests.demo.conftest import _club

TEETH = "sprocket-teeth"


def test_two_sprockets_looked_at_in_one_row_are_drawn_once(job: Callable[[str, str], Job]) -> None:
    stages = job("017", "sprocket-chain-inspection").instructions.stages
    (row,) = (row for stage in stages for row in stage.rows if _pictures(row).count(TEETH) == 2)
    assert len(list(drawn(row, Words.speaking("en"), scale_for(parse_quantity("600 mm")), 90.0))) == 1


@pytest.mark.parametrize("engine", ["004", "023", "042"])
def test_what_goes_onto_the_shaft_is_drawn_over_the_face_on_which_closing_begins(
    job: Callable[[str, str], Job], engine: str
) -> None:
    """Before the row that begins it, over both columns; the leaf still has two faces."""
    made = job(engine, "clutch-service")
    outcome = press(order("leaf", leaf(made, _club().club.value), made, "Club", forms=False))
    assert outcome.pressed is not None
    assert outcome.pressed.pages == 2
    face = pymupdf.open(stream=outcome.pressed.pdf)[1]
    (legend,) = face.search_for("In this order, from the inside outwards")
    (close,) = (place for place in face.search_for("Close") if place.x0 < 100)
    (after,) = face.search_for("Slide inner washer on")
    assert legend.y1 < close.y0 < after.y0
    assert legend.x0 < face.rect.width / 2 < max(place.x1 for place in face.search_for("outer thrust"))


def _pictures(row: JobRow) -> list[str | None]:
    return [mark.picture for step in row.steps for mark in step.marks if isinstance(mark, LookMark)]
