"""Every row of docs/reference-checks.md is checked here, and the page says what the rows say."""

from __future__ import annotations

import pytest

from tests.trade.published import PAGE, Published, page, topics

ROWS = [(f"{title}: {row.quantity}", row) for title, (_, rows) in topics().items() for row in rows]


@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=[name for name, _ in ROWS])
def test_ours_agrees_with_the_published_figure(row: Published) -> None:
    assert row.fault == ""
    assert row.agrees, f"{row.quantity}: ours {row.ours}, published {row.published}, tolerance {row.tolerance}"


def test_no_row_stands_twice_and_none_is_missing() -> None:
    names = [name for name, _ in ROWS]
    assert len(names) == len(set(names))
    assert {title: len(rows) for title, (_, rows) in topics().items()} == {
        "Bosses, the margin against stripping, and inserts": 15,
        "Check characters": 1,
        "Figures to accept, rounded to what the gauge shows": 9,
        "Hours left of a wearing part": 6,
        "Measurement": 18,
        "Spark plugs, and oil in petrol": 4,
        "Stripping areas, 6H/6g, engaged over one diameter": 24,
        "Threads and proof loads": 48,
        "Tightening": 90,
        "Units": 3,
    }


def test_a_wider_tolerance_is_at_most_one_step_of_the_source() -> None:
    wide = [row for _, row in ROWS if row.within]
    assert wide
    assert max(row.within / abs(float(row.published)) for row in wide) < 0.011


def test_a_source_that_cuts_off_is_never_above_ours() -> None:
    cut = [row for _, row in ROWS if "cut this figure off" in row.because]
    assert len(cut) > 10
    assert all(0 < row.difference < row.tolerance for row in cut)


def test_the_page_says_what_the_rows_say() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python -m tests.trade.published"


def test_a_wrong_figure_would_be_found() -> None:
    right = Published("x", 20.1, "20.1", "mm2", "a table", "copy")
    assert right.agrees
    assert not Published("x", 20.16, "20.1", "mm2", "a table", "copy").agrees
    assert Published("x", 20.16, "20.1", "mm2", "a table", "copy", within=0.1).fault != ""
    assert Published("x", 20.1, "20.1", "mm2", "a table", "hearsay").fault != ""
    assert not Published("x", "K", "M", "", "a table", "copy").agrees
