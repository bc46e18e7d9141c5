"""Which drawing a mark has: all of the demo, in both sizes and both languages, inside their frames, words and all."""

from __future__ import annotations

from datetime import date
from typing import get_args

import pytest

from docgen.club.schema.model import PICTURES as PICTURE_NAMES
from docgen.club.verbs.checks import SIGHTS as SIGHT_NAMES
from docgen.club.words import Words
from docgen.job import marks as m
from docgen.job.figure import Figure
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.chosen import Drawing, drawings_for
from docgen.sheets.drawings.panels import FRAME, WORD
from tests.drawings.seen import club, marks_of, one_engine_each, size_of, texts, title_of
from tools.drawings import gallery

JOBS = (
    "clutch-service", "carburettor-service", "carburettor-test", "reed-inspection", "spark-plug-renewal", "top-end",
    "sprocket-chain-inspection", "ignition-electrics", "bottom-end-check", "fuel-system", "cooling-system",
    "pre-season",
)  # fmt: skip


def drawn(language: str) -> list[tuple[m.Mark, Drawing]]:
    words, folder = Words.speaking(language), club()
    found: dict[str, tuple[m.Mark, Drawing]] = {}
    for model, number in one_engine_each().items():
        for job in JOBS:
            if set(folder.procedures[job].value.needs) <= set(folder.models[model].value.equipment):
                for mark in marks_of(number, job):
                    for one in drawings_for(mark, words):
                        found.setdefault(title_of(one.svg), (mark, one))
    return list(found.values())


def test_every_name_that_files_may_use_is_drawn() -> None:
    assert sorted(PICTURE_NAMES) == sorted(pictures("gauged"))
    assert sorted(SIGHT_NAMES) == sorted(pictures("sights"))


def test_these_kinds_of_marks_have_drawings_and_no_others() -> None:
    found = {type(mark) for mark, _ in drawn("en")}
    assert found == {
        m.OrientationMark, m.StackMark, m.TorqueMark, m.ReadingMark, m.SettingMark, m.LookMark, m.ApplyMark,
        m.DrawingMark,
    }  # fmt: skip
    others = set(get_args(get_args(m.Mark)[0])) - found
    assert len(others) == 8
    words = Words()
    for one in (
        m.HoldMark(key="h", why="Look."), m.WaitMark(key="w", time="1 h"), m.LookMark(key="l", accept="Good."),
        m.ApplyMark(material="Brake cleaner", to=("drum",), cleaning=True, kind="solvent"),
        m.ReadingMark(key="r", limit="r", name="r", unit="mm", allow=Figure(origin="blank")),
    ):  # fmt: skip
        assert drawings_for(one, words) == ()


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_drawing_keeps_to_its_frame_and_so_do_its_words(language: str) -> None:
    wide, high = FRAME
    found = drawn(language)
    assert len(found) > 55
    worded = 0
    for _, one in found:
        x, y = size_of(one.svg)
        name = title_of(one.svg)
        assert x <= wide + 0.01, name
        assert y <= high + 0.01, name
        said = list(texts(one.svg))
        worded += bool(said)
        for text in said:
            assert text.size >= WORD - 0.001, (name, text)  # capitals of 2.4 mm
            assert text.left >= -0.1, (name, text)
            assert text.right <= x + 0.1, (name, text)
            assert 0.3 * text.size <= text.middle <= y - 0.3 * text.size, (name, text)
        for n, a in enumerate(said):
            for b in said[n + 1 :]:
                apart = a.right < b.left or b.right < a.left or abs(a.middle - b.middle) > 0.66 * a.size
                assert apart, (name, a.words, b.words)
    assert worded > 25


def test_words_in_a_drawing_stand_in_its_alternative_text() -> None:
    checked = 0
    for _, one in drawn("de"):
        title = title_of(one.svg)
        for text in texts(one.svg):
            if not text.words.isdigit():
                assert text.words in title, title
                checked += 1
    assert checked > 60


def test_a_legend_names_every_number() -> None:
    checked = 0
    for mark, one in drawn("en"):
        numbers = {int(text.words) for text in texts(one.svg) if text.words.isdigit()}
        if one.legend:
            assert numbers == set(range(1, len(one.legend) + 1)), title_of(one.svg)
            checked += 1
        elif not isinstance(mark, m.TorqueMark):
            assert numbers == set(), title_of(one.svg)
    assert checked >= 5


def test_from_farther_away_a_drawing_grows_with_its_words_but_one_of_life_size_does_not() -> None:
    grown = still = 0
    for _, one in drawn("en"):
        said = list(texts(one.svg))
        if one.life_size:
            assert one.legible(9.0, 90.0) == one.svg
            still += 1
        elif said and size_of(one.svg)[0] < 70:
            larger = size_of(one.legible(1.2 * WORD, 90.0))[0]
            assert min(text.size for text in said) * larger / size_of(one.svg)[0] >= 1.2 * WORD - 0.001
            grown += larger > size_of(one.svg)[0]
    assert still == 2
    assert grown >= 10


def test_the_gallery_prints_a_page_or_more_for_each_family() -> None:
    outcome = press(plain_order("g", gallery(), "Club", date(2027, 1, 1), ("gallery",)))
    assert outcome.pressed is not None, outcome.faults
    assert outcome.pressed.pages == 11
