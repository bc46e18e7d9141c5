"""The bench leaf, measured on the finished PDF with poppler, Pillow, SciPy and zxing-cpp.

Sources: NUREG-0700 rev. 3 (character height at least 0.004 of the distance, preferably 0.006), ANSI Z535.6 (a message
before its step), ISO 216 (A4). The clip margin of 20 mm and tick boxes of 6 mm: common practice, no source.
"""

from __future__ import annotations

import re

import numpy as np
import pytest
import zxingcpp
from PIL import Image

from docgen.club.words import Words
from docgen.job.marks import HoldMark, ReadingMark, TorqueMark
from docgen.job.number import parse_number
from docgen.sheets.figures import HARD, figure
from docgen.sheets.leaf import BOX, CLIP
from docgen.sheets.measure import CAP_HEIGHT, scale_for
from docgen.trade.quantity import parse_quantity
from tests.sheets.conftest import Seen, Word, open_boxes, seen
from tests.sheets.sample import sample_job

SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
DISTANCE = 600


@pytest.fixture(params=["A4", "Letter"])
def bench(request: pytest.FixtureRequest) -> Seen:
    """The bench leaf, on each paper."""
    return seen("leaf", request.param, f"{DISTANCE} mm")


def text_of(made: Seen) -> str:
    return " ".join(made.text(page) for page in range(1, made.pages + 1))


def test_faces_have_the_size_of_the_paper() -> None:
    for paper, size in SIZES.items():
        made = seen("leaf", paper, f"{DISTANCE} mm")
        assert made.sizes == (size,) * made.pages


@pytest.mark.parametrize("distance", ["450 mm", "600 mm", "1000 mm"])
def test_characters_are_as_high_as_the_distance_asks(distance: str) -> None:
    made, length = seen("leaf", "A4", distance), float(distance.split()[0])
    sizes, said = [], []
    for page in range(1, made.pages + 1):
        for word in made.words(page):
            sizes.append(word.size)
            if word.text in ("Undo", "Slide", "Measure", "Tighten"):
                said.append(word.size)
    assert min(sizes) * CAP_HEIGHT >= 0.004 * length - 0.02
    assert len(said) >= 4
    assert min(said) * CAP_HEIGHT >= 0.005 * length - 0.02


def test_the_scale_follows_the_rule() -> None:
    for distance in (300, 450, 600, 700, 1000):
        scale = scale_for(parse_quantity(f"{distance} mm"))
        assert scale.step * CAP_HEIGHT >= 0.005 * distance
        assert scale.small * CAP_HEIGHT >= 0.004 * distance - 0.001


def test_only_the_first_face_leaves_room_for_the_clip(bench: Seen) -> None:
    blank = bench.pixels(1)[: int(CLIP / 25.4 * 150) - 1]
    assert np.all(blank == 255)
    assert not np.all(bench.pixels(2)[: int(CLIP / 25.4 * 150) - 1] == 255)


def test_each_face_tells_its_number_and_its_code_says_the_same(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        (number,) = re.findall(r"\b017-CLU-04-003-L\d+-[0-9A-Z]\b", bench.text(page))
        assert parse_number(number).page == page
        assert f"{number} · {page} of {bench.pages}" in bench.text(page)
        codes = zxingcpp.read_barcodes(Image.fromarray(bench.pixels(page, 200)))
        assert [code.text for code in codes] == [number]


def test_each_face_has_the_engine_the_job_the_strip_and_whose_figures_come_first(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        text = bench.text(page)
        assert max(bench.words(page), key=lambda word: word.size).text == "017"
        assert "Clutch: clean, inspect and regrease" in text
        assert all(told in text for told in ("Stopped after row", "by", "loose or open"))
        assert "The engine maker’s manual, class rules, local codes and licensed practice come first." in text


def numbers(made: Seen) -> dict[int, tuple[int, Word]]:
    """Each row's face and its number as printed."""
    found: dict[int, tuple[int, Word]] = {}
    size = scale_for(parse_quantity(f"{DISTANCE} mm")).step
    for page in range(1, made.pages + 1):
        half = made.sizes[page - 1][0] / 2
        for word in made.words(page):
            near = min(word.right - 7, abs(word.right - half - 8))
            at_edge = word.right < 16 or half < word.right < half + 11
            if word.text.isdigit() and abs(word.size - size) < 0.15 and at_edge:
                assert near < 10
                found.setdefault(int(word.text), (page, word))
    return found


def test_every_row_is_printed_once_with_its_box(bench: Seen) -> None:
    rows = [row for stage in sample_job().instructions.stages for row in stage.rows]
    found = numbers(bench)
    assert sorted(found) == [row.number for row in rows]
    boxes = sum(len(open_boxes(bench.pixels(page), BOX)) for page in range(1, bench.pages + 1))
    assert boxes >= len(rows)
    assert boxes <= len(rows) + 3


def test_a_messages_line_stands_directly_before_its_row(bench: Seen) -> None:
    found, checked = numbers(bench), 0
    for step in sample_job().instructions.steps:
        page, number = found[step.number]
        for message in step.messages:
            words = [w for w in bench.words(page) if w.text == message.word.upper() and abs(w.left - number.left) < 12]
            above = [w for w in words if number.top - 22 < w.top < number.top]
            assert above, message.hazard
            checked += 1
    assert checked == 4


def test_the_strip_at_the_head_has_a_panel_for_each_signal_word_but_notice(bench: Seen) -> None:
    text = bench.text(1)
    places = [text.index(word) for word in ("DANGER", "WARNING", "CAUTION")]
    assert places == sorted(places)
    assert places[-1] < text.index("Make safe")
    for message in (m for step in sample_job().instructions.steps for m in step.messages if m.word != "notice"):
        assert message.hazard in text


def test_every_figure_that_is_set_stands_on_it(bench: Seen) -> None:
    text, checked = text_of(bench), 0
    for step in sample_job().instructions.steps:
        for mark in step.marks:
            if isinstance(mark, TorqueMark) and mark.value.band:
                assert figure(mark.set_to or mark.value.band, Words()).replace(HARD, " ") in text
                checked += 1
            if isinstance(mark, ReadingMark):
                assert figure(mark.accept or mark.allow, Words()).replace(HARD, " ") in text
                checked += 1
    assert checked >= 4


def test_values_say_where_they_are_from(bench: Seen) -> None:
    text = text_of(bench)
    assert "6.5 N·m this engine estimate" in text
    assert "see the maker’s" in text
    assert "this engine Earth strap screw: M6×1, 5 mm key, 6.5 N·m (estimate)" in text


def test_work_stops_where_it_must(bench: Seen) -> None:
    text = text_of(bench)
    assert "STOP" in text
    assert "Seal on the cylinder: QL-4471" in text
    assert sum(isinstance(mark, HoldMark) for step in sample_job().instructions.steps for mark in step.marks) == 1
    assert text.count("HOLD") == 1
    assert "Checked by" in text


def test_a_long_wait_has_room_for_a_day_and_a_time(bench: Seen) -> None:
    text = text_of(bench)
    assert "not before, day" in text
    assert re.search(r"_{4,} : _{4,}", text)


def test_boxes_to_write_in_are_at_least_7_mm_high_with_their_frame() -> None:
    made = seen("leaf", "A4", f"{DISTANCE} mm")
    page = next(n for n in range(1, made.pages + 1) if "not before" in made.text(n))
    words = made.words(page)
    label = next(w for n, w in enumerate(words) if w.text == "not" and words[n + 1].text == "before,")
    pixels, mm = made.pixels(page), 25.4 / 150
    column = pixels[:, int((label.right + 3) / mm)]
    dark = np.flatnonzero(column < 100)
    lines = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
    above = max(line[0] for line in lines if line[-1] * mm < label.top + 0.5)
    below = min(line[-1] + 1 for line in lines if line[0] * mm > label.bottom + 0.5)
    assert (below - above) * mm >= 7 - mm
