"""The awkward inputs and the remaining engines of the demo, measured from the finished PDF by tools that are not ours.

Sources: character height 0.004 x distance (NUREG-0700 rev 3, copy); tick box of at least 5 mm with clear space
(own camera measurements); clip margin (docs/look.md).
"""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import numpy as np
import pikepdf
import pymupdf
import pytest

from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import BOX, CLIP, leaf
from docgen.sheets.measure import scale_for
from docgen.sheets.signoff import signoff
from docgen.trade.quantity import parse_quantity
from tests.demo.conftest import _printed
from tests.paper.measuring import check_codes, check_sound, text_contrasts
from tests.shares import share
from tests.sheets.conftest import Seen, open_boxes
from tests.sheets.sample import sample_club
from tests.sheets.test_sheets_awkward import CASES

CAP_HEIGHT = 0.668
DISTANCE = 700
MM = 25.4 / 72
SIGNED = [
    ("023", "clutch-service"),
    ("023", "carburettor-service"),
    ("042", "reed-inspection"),
    ("055", "starter-drive-service"),
    ("004", "sprocket-chain-inspection"),
    ("031", "spark-plug-renewal"),
]
every_case = pytest.mark.parametrize("case", CASES)


@cache
def seen(case: str, sheet: str) -> Seen:
    """An awkward input's leaf or sign-off sheet, printed as the command prints it."""
    job = CASES[case]()
    page = (leaf if sheet == "leaf" else signoff)(job, sample_club("A4", f"{DISTANCE} mm"))
    outcome = press(order("test", page, job, "Quarry Lane Kart Club", forms=sheet == "sign-off"))
    assert outcome.pressed is not None, outcome.faults
    return Seen(outcome.pressed.pdf, outcome.pressed.pages, outcome.pressed.sizes)


@every_case
def test_an_awkward_leaf_keeps_its_clip_margin_and_its_type(case: str) -> None:
    made = seen(case, "leaf")
    for page in range(1, made.pages + 1):
        assert min(word.size for word in made.words(page)) * CAP_HEIGHT >= 0.004 * DISTANCE - 0.02, f"page {page}"
    assert np.all(made.pixels(1, 60)[: int(CLIP / 25.4 * 60) - 1] == 255)


@every_case
def test_an_awkward_leaf_prints_every_row_once_with_its_box(case: str) -> None:
    """Each row's number stands at the left of one of the two columns of exactly one face; each has its tick box."""
    made, rows = seen(case, "leaf"), [row for stage in CASES[case]().instructions.stages for row in stage.rows]
    size = scale_for(parse_quantity(f"{DISTANCE} mm")).step
    numbers = [
        int(word.text)
        for page in range(1, made.pages + 1)
        for word in made.words(page)
        if word.text.isdigit() and abs(word.size - size) < 0.2 and min(abs(word.right - at) for at in (16, 115)) < 4
    ]
    assert sorted(numbers) == [row.number for row in rows]
    assert sum(len(open_boxes(made.pixels(page), BOX)) for page in range(1, made.pages + 1)) >= len(rows)


@every_case
@pytest.mark.parametrize("sheet", ["leaf", "sign-off"])
def test_awkward_sheets_are_sound_stand_out_in_grey_and_carry_their_number(
    case: str, sheet: str, tmp_path: Path
) -> None:
    made = seen(case, sheet)
    check_sound(made.pdf, tmp_path)
    check_codes(made)
    found = list(text_contrasts(made.pdf))
    assert len(found) > 12
    assert [one for one in found if one[2] < 4.5] == []


@every_case
def test_awkward_text_keeps_inside_the_paper(case: str) -> None:
    for sheet in ("leaf", "sign-off"):
        with pymupdf.open(stream=seen(case, sheet).pdf) as document:
            for page in document:
                words = page.get_text("words")
                assert words
                assert min(word[0] for word in words) * MM >= 5
                assert max(word[2] for word in words) <= page.rect.width - 5 / MM


def _fields(pdf: bytes) -> list[tuple[int, str, bool, pymupdf.Rect]]:
    with pymupdf.open(stream=pdf) as document:
        return [
            (page.number, widget.field_name, widget.field_type_string == "CheckBox", widget.rect)
            for page in document
            for widget in page.widgets()
        ]


@pytest.mark.parametrize(("engine", "job"), SIGNED[: share(3, 9)])
def test_fields_can_be_ticked_and_told_apart(engine: str, job: str) -> None:
    """Tick boxes are 5 mm or more; no two fields of a page touch; each has its own name."""
    fields = _fields(_printed(engine, job, "sign-off"))
    assert len(fields) > 20
    assert len({name for _, name, _, _ in fields}) == len(fields)
    ticks = [rect for _, _, box, rect in fields if box]
    assert len(ticks) > 2
    assert min(min(rect.width, rect.height) for rect in ticks) * MM >= 4.99
    for n, (page, name, _, rect) in enumerate(fields):
        for other_page, other, _, other_rect in fields[n + 1 :]:
            assert page != other_page or not rect.intersects(other_rect), f"{name} and {other}"


@pytest.mark.parametrize(("engine", "job"), SIGNED[: share(1, 2)])
@pytest.mark.parametrize("sheet", ["leaf", "sign-off"])
def test_nothing_in_the_file_says_when_or_where_it_was_made(engine: str, job: str, sheet: str) -> None:
    """The only moments in it are those of the job, and printing again in this process gives the same bytes."""
    with pikepdf.open(io.BytesIO(_printed(engine, job, sheet))) as document:
        assert str(document.docinfo["/CreationDate"]).startswith("D:2027022")
    first = _printed(engine, job, sheet)
    assert first == _printed.__wrapped__(engine, job, sheet)
