"""A row of the bench leaf shows a picture once, however many of its looks name it."""

from __future__ import annotations

from collections.abc import Callable

from docgen.club.words import Words
from docgen.job.job import Job, JobRow
from docgen.job.marks import LookMark
from docgen.sheets.leaf_rows import drawn
from docgen.sheets.measure import scale_for
from docgen.trade.quantity import parse_quantity

TEETH = "sprocket-teeth"


def test_two_sprockets_looked_at_in_one_row_are_drawn_once(job: Callable[[str, str], Job]) -> None:
    stages = job("017", "sprocket-chain-inspection").instructions.stages
    (row,) = (row for stage in stages for row in stage.rows if _pictures(row).count(TEETH) == 2)
    assert len(list(drawn(row, Words.speaking("en"), scale_for(parse_quantity("600 mm")), 90.0))) == 1


def _pictures(row: JobRow) -> list[str | None]:
    return [mark.picture for step in row.steps for mark in step.marks if isinstance(mark, LookMark)]
