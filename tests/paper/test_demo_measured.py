"""Every kind of sheet that the demo prints, measured from the finished PDF by tools that are not ours.

Sources: character height 0.004 x distance (NUREG-0700 rev 3, copy); contrast 4.5 (WCAG 2, computed here from the
formula and, for one pair, against the wcag table's published 4.54 for #767676 on white).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pymupdf
import pytest

from docgen.sheets.leaf import CLIP
from tests.demo.conftest import _job, _page, _printed
from tests.demo.said import said
from tests.paper.measuring import check_codes, check_heard, check_sound, contrast, luminance, text_contrasts
from tests.shares import share
from tests.sheets.conftest import Seen, Word

DISTANCE = 600
CLUTCH, REED = "clutch-service", "reed-inspection"
CAP_HEIGHT = 0.668
SHEETS = [
    (engine, job, sheet)
    for engine, jobs in (
        ("023", ("clutch-service", "carburettor-service", "starter-drive-service", "sprocket-chain-inspection")),
        ("038", ("clutch-service", "spark-plug-renewal")),
        ("042", ("reed-inspection", "carburettor-service")),
    )
    for job in jobs[: share(1, 9)]
    for sheet in ("leaf", "sign-off")
]
"""In an everyday run one job an engine; benchmarks/every_sheet.py judges every sheet."""
every_sheet = pytest.mark.parametrize(("engine", "job", "sheet"), SHEETS)
every_leaf = pytest.mark.parametrize(("engine", "job"), [(e, j) for e, j, s in SHEETS if s == "leaf"])


@cache
def seen(engine: str, job: str, sheet: str) -> Seen:
    pdf = _printed(engine, job, sheet)
    with pymupdf.open(stream=pdf) as document:
        return Seen(pdf, len(document), ())


def test_the_contrast_formula_gives_the_published_figures() -> None:
    for shade, published in ((0x76, 4.542), (0x77, 4.478), (0x59, 7.005)):
        assert contrast(luminance((shade / 255,) * 3), 1.0) == pytest.approx(published, abs=0.0006)


@pytest.mark.parametrize(("engine", "job", "sheet"), [*SHEETS, ("023", CLUTCH, "reading"), ("042", REED, "reading")])
def test_all_that_its_page_says_stands_on_the_paper(engine: str, job: str, sheet: str) -> None:
    """Block by block, so that what other tests find on a page is on the paper too."""
    with pymupdf.open(stream=_printed(engine, job, sheet)) as document:
        paper = "".join("".join(page.get_text().split()) for page in document)
    blocks = said(_page(engine, job, sheet))
    assert len(blocks) > 50
    assert [one for one in blocks if "".join(one.split()) not in paper] == []


@every_leaf
def test_smallest_character_is_as_high_as_the_club_s_distance_asks(engine: str, job: str) -> None:
    made = seen(engine, job, "leaf")
    for page in range(1, made.pages + 1):
        assert min(word.size for word in made.words(page)) * CAP_HEIGHT >= 0.004 * DISTANCE - 0.02, f"page {page}"


@every_leaf
def test_clip_margin_is_empty(engine: str, job: str) -> None:
    assert np.all(seen(engine, job, "leaf").pixels(1, 60)[: int(CLIP / 25.4 * 60) - 1] == 255)


@every_sheet
def test_text_stands_out_in_grey(engine: str, job: str, sheet: str) -> None:
    """Each run of text against the ground it stands on, both turned to grey as a mono printer would."""
    found = list(text_contrasts(seen(engine, job, sheet).pdf))
    assert len(found) > 50
    assert [one for one in found if one[2] < 4.5] == []


@every_leaf
def test_messages_stand_before_their_row_on_its_face(engine: str, job: str) -> None:
    made, checked = seen(engine, job, "leaf"), 0
    pages = {page: made.words(page) for page in range(1, made.pages + 1)}
    for stage in _job(engine, job).instructions.stages:
        for row in stage.rows:
            for message in (one for step in row.steps for one in step.messages):
                found = [
                    (top, at)
                    for words in pages.values()
                    for top in tops(words, message.line or message.hazard)
                    for at in tops(words, row.line[:1].upper() + row.line[1:])
                ]
                assert any(0 < at - top < 30 for top, at in found), f"row {row.number}: {message.hazard}"
                checked += 1
    assert checked >= 1


def tops(words: list[Word], text: str) -> list[float]:
    """Where on the page the first two words of a text stand, mm from the top."""
    first = text.split()[:2]
    return [w.top for n, w in enumerate(words) if [x.text for x in words[n : n + len(first)]] == first]


@every_sheet
def test_codes_read_with_noise_at_100_dpi(engine: str, job: str, sheet: str) -> None:
    check_codes(seen(engine, job, sheet))


@every_sheet
def test_other_programs_find_the_file_sound(engine: str, job: str, sheet: str, tmp_path: Path) -> None:
    check_sound(seen(engine, job, sheet).pdf, tmp_path)


@every_sheet
def test_a_screen_reader_speaks_it_all(engine: str, job: str, sheet: str, tmp_path: Path) -> None:
    check_heard(seen(engine, job, sheet).pdf, tmp_path)


@every_sheet
def test_the_job_is_attached_as_the_sheet_s_source(engine: str, job: str, sheet: str) -> None:
    with pymupdf.open(stream=seen(engine, job, sheet).pdf) as document:
        assert document.embfile_names() == ["job.yaml"]
        assert f"instructions_digest: {_job(engine, job).instructions_digest}" in document.embfile_get(0).decode()
