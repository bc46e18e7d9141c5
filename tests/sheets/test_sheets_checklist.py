"""The bench checklist, measured on the finished PDF with poppler, Pillow, SciPy and zxing-cpp.

Sources: NUREG-0700 rev. 3 (character height 0.004 and 0.006 of the distance), NASA CR-177605 (x-height 2.54 mm),
ANSI Z535.6 (a message before its step), ISO 216 (A4). Boxes of 8 mm and the clip margin of 30 mm: common practice.
"""

from __future__ import annotations

import re

import numpy as np
import pytest
import zxingcpp
from PIL import Image

from docgen.job.number import parse_number
from docgen.sheets.scale import CAP_HEIGHT, X_HEIGHT, scale_for
from docgen.trade.quantity import parse_quantity
from tests.sheets.conftest import Seen, Word, open_boxes, seen
from tests.sheets.sample import sample_job

SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


def test_pages_have_the_size_of_the_paper() -> None:
    for paper, size in SIZES.items():
        made = seen("checklist", paper)
        assert made.pages > 5
        assert made.sizes == (size,) * made.pages


@pytest.mark.parametrize("distance", ["450 mm", "700 mm", "1000 mm"])
def test_characters_are_as_high_as_the_distance_asks(distance: str) -> None:
    made, length = seen("checklist", "A4", distance), float(distance.split()[0])
    sizes, said = [], []
    for page in range(1, made.pages + 1):
        for word in made.words(page):
            sizes.append(word.size)
            if word.text in ("Undo", "Slide", "Measure", "Tighten"):
                said.append(word.size)
    assert min(sizes) * CAP_HEIGHT >= 0.004 * length - 0.02
    assert len(said) >= 4
    assert min(said) * CAP_HEIGHT >= 0.006 * length - 0.02
    assert min(said) * X_HEIGHT >= 2.54 - 0.01


def test_nothing_is_printed_in_the_clip_margin(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        pixels = bench.pixels(page)
        assert np.all(pixels[: int(30 / 25.4 * 150) - 1] == 255), f"page {page}"


def test_each_page_tells_its_number_and_its_code_says_the_same(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        number = re.findall(r"\b017-CLU-04-003-C\d+-[0-9A-Z]\b", bench.text(page))
        assert len(number) == 1
        assert parse_number(number[0]).page == page
        assert f"Page {page} of {bench.pages}" in bench.text(page)
        codes = zxingcpp.read_barcodes(Image.fromarray(bench.pixels(page, 100)))
        assert [code.text for code in codes] == number


def test_each_page_says_whose_figures_come_first_and_has_the_strip_for_where_work_stopped(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        foot = bench.sizes[page - 1][1] - 36
        words = [word for word in bench.words(page) if word.top > foot]
        left = " ".join(word.text for word in words if word.right < 148)
        assert all(told in left for told in ("Stopped after step", "by", "loose or open"))
        assert "The engine maker’s manual, class rules, local codes and licensed practice come first." in left


def test_the_engines_number_is_the_largest_word_of_every_page(bench: Seen) -> None:
    for page in range(1, bench.pages + 1):
        largest = max(bench.words(page), key=lambda word: word.size)
        assert largest.text == "017"


def numbers(made: Seen) -> dict[int, tuple[int, Word]]:
    """Each step's page and its number as printed, found by the size of its type."""
    size = scale_for(parse_quantity("700 mm")).number
    found: dict[int, tuple[int, Word]] = {}
    for page in range(1, made.pages + 1):
        for word in made.words(page):
            if word.text.isdigit() and abs(word.size - size) < 0.3 and word.left < 25:
                assert int(word.text) not in found
                found[int(word.text)] = (page, word)
    return found


def test_every_step_is_printed_once_and_whole_on_one_page(bench: Seen) -> None:
    found, steps = numbers(bench), sample_job().instructions.steps
    assert list(found) == [step.number for step in steps]
    for step in steps:
        page, number = found[step.number]
        below = [word.top for at, word in found.values() if at == page and word.top > number.top + 1]
        lines = [
            word.text
            for word in bench.words(page)
            if number.top - 1 < word.top < min(below, default=999) - 1 and 33 < word.left < 200
        ]
        printed = " ".join(lines).replace("-", " ").split()
        for word in step.text.replace("-", " ").split():
            assert word in printed, step.text


def test_messages_stand_before_their_step_on_its_page(bench: Seen) -> None:
    found, checked = numbers(bench), 0
    for step in sample_job().instructions.steps:
        page, number = found[step.number]
        for message in step.messages:
            signal = [word for word in bench.words(page) if word.text == message.word.upper()]
            before = [word for at, word in found.values() if at == page and word.top < number.top]
            assert len(signal) == 1
            assert signal[0].top < number.top
            assert all(word.top < signal[0].top for word in before)
            assert message.hazard in bench.text(page)
            assert message.avoid.split(". ")[-1] in bench.text(page)
            checked += 1
    assert checked == 4


def test_no_stage_heading_stands_alone(bench: Seen) -> None:
    found = numbers(bench)
    for stage in sample_job().instructions.stages:
        page, number = found[stage.steps[0].number]
        first = stage.title.split()[0]
        assert [word for word in bench.words(page) if word.text == first and word.top < number.top and word.left < 15]


def test_every_box_is_at_least_8_mm_and_every_step_tool_and_check_has_one() -> None:
    made, told = seen("checklist"), sample_job().instructions
    found = sum(len(open_boxes(made.pixels(page), 9.0)) for page in range(1, made.pages + 1))
    single = len(told.before) + len(told.tools) + len(told.materials) + len(told.spares) + len(told.steps)
    checks = len(told.closing) + len(told.after_run)
    in_steps = 3 + 1 + 1 + 1 + 4  # again until, renew, two orientations, four nuts started
    assert found == single + checks + in_steps


def test_boxes_to_write_in_are_at_least_10_mm_high() -> None:
    made = seen("checklist")
    page = next(n for n in range(1, made.pages + 1) if "Measure each shoe" in made.text(n))
    words = made.words(page)
    label = next(w for n, w in enumerate(words) if w.text == "shoe" and words[n + 1].text == "1")
    pixels, mm = made.pixels(page), 25.4 / 150
    column = pixels[:, int((label.left + 25) / mm)]
    dark = [row * mm for row in np.flatnonzero(column < 100)]
    above, below = max(y for y in dark if y < label.top), min(y for y in dark if y > label.bottom + 1)
    assert below - above >= 10


def test_first_page_holds_what_must_not_be_missed() -> None:
    text = seen("checklist").text(1)
    for told in (
        "Bench checklist Clutch: clean, inspect and regrease",
        "Alder 100R · serial A100-20931 · CLU revision 4, 18 January 2026",
        "Text by Quarry Lane workshop, CC BY 4.0",
        "Work, about",
        "1 h 35 min",
        "24 h",
        "Not running before",
        "This job breaks a seal. Do not start without permission.",
        "Seal on the cylinder: QL-4471",
        "This engine is not as its model",
        "Earth strap screw: re-tapped M6×1, was M5×0.8 since 2 September 2025",
        "No longer holds: the maker's torque 4.5 N·m and the 4 mm key",
        "Clutch drum: bored 0.1 mm over since 11 February 2026",
    ):
        assert told in text, told


def test_values_say_where_they_are_from() -> None:
    made = seen("checklist")
    text = " ".join(made.text(page) for page in range(1, made.pages + 1))
    assert "Earth strap screw this engine estimate" in text
    assert "Limit this engine" in text
    assert "Battery at rest club’s figure" in text
    assert "see the maker's manual" in text
    assert "34 N·m ± 10 %" in text


def test_the_scale_follows_the_rule() -> None:
    for distance in (300, 450, 600, 700, 1000):
        scale = scale_for(parse_quantity(f"{distance} mm"))
        assert scale.step * CAP_HEIGHT >= 0.006 * distance
        assert scale.step * X_HEIGHT >= 2.54
        assert scale.small * CAP_HEIGHT >= 0.004 * distance - 0.001
