"""Labels measured from their PDF by a tool that is not ours: on their grid to 0.2 mm at every position."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pymupdf
import pytest

from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.labels import Label, LabelError, LabelSheet, labels_page, misfits, shipped
from docgen.sheets.page import PAPERS
from tests.demo.conftest import ON, _club

MM = 25.4 / 72
SHEETS = shipped()
TABLE = Path(__file__).resolve().parents[2] / "docgen/sheets/data/label_sheets.csv"


def pressed(sheet: LabelSheet, labels: list[Label], start: int = 1, *, outline: bool = True) -> pymupdf.Document:
    club = _club().club
    assert club is not None
    page = labels_page(labels, sheet, start, club.value, "Labels", outline=outline)
    outcome = press(plain_order("labels", page, "Club", ON, ()))
    assert outcome.pressed is not None, outcome.faults
    return pymupdf.open(stream=outcome.pressed.pdf)


@cache
def full(name: str) -> pymupdf.Document:
    """A sheet and one label more, each label with a word of its own."""
    sheet = SHEETS[name]
    return pressed(sheet, [Label(f"No {n}") for n in range(1, sheet.count + 2)])


def edges(page: pymupdf.Page) -> list[tuple[float, float, float, float]]:
    """The outlines of labels: left, top, width, height of their outer edge; mm. Row by row."""
    found = []
    for drawing in page.get_drawings():
        area, line = drawing["rect"], 0.1 if drawing["type"] == "s" else 0.0
        found.append(
            (area.x0 * MM - line / 2, area.y0 * MM - line / 2, area.width * MM + line, area.height * MM + line)
        )
    return sorted({tuple(round(v, 2) for v in one) for one in found if one[2] > 20}, key=lambda r: (r[1], r[0]))  # type: ignore[misc]


def test_the_table_states_every_sheet_once_with_a_source() -> None:
    rows = list(csv.DictReader(TABLE.read_text("utf-8").splitlines()))
    assert [row["name"] for row in rows] == list(SHEETS)
    assert len(rows) >= 8
    assert all(row["source"] for row in rows)
    assert {name: misfits(sheet) for name, sheet in SHEETS.items() if misfits(sheet)} == {}


@pytest.mark.parametrize("name", SHEETS)
def test_labels_lie_on_their_grid_at_every_position(name: str) -> None:
    sheet, document = SHEETS[name], full(name)
    row = next(r for r in csv.DictReader(TABLE.read_text("utf-8").splitlines()) if r["name"] == name)
    left, top, across, down, width, height = (
        float(row[key]) for key in ("left", "top", "across", "down", "width", "height")
    )
    assert document.page_count == 2
    page = document[0]
    paper = PAPERS[sheet.paper]
    assert (page.rect.width * MM, page.rect.height * MM) == pytest.approx((paper.width, paper.height), abs=0.05)
    seen = edges(page)
    assert len(seen) == int(row["columns"]) * int(row["rows"])
    for n, one in enumerate(seen):
        line, column = divmod(n, int(row["columns"]))
        wanted = (left + column * across, top + line * down, width, height)
        assert one == pytest.approx(wanted, abs=0.2), n + 1
    assert len(edges(document[1])) == 1


@pytest.mark.parametrize("name", SHEETS)
def test_each_label_s_words_stand_inside_it_and_clear_of_its_edge(name: str) -> None:
    sheet, document = SHEETS[name], full(name)
    words = [w for w in document[0].get_text("words") if w[4].isdigit()]
    assert [int(w[4]) for w in sorted(words, key=lambda w: int(w[4]))] == list(range(1, sheet.count + 1))
    for x0, y0, x1, y1, text, *_ in words:
        left, top = sheet.place(int(text))
        assert left + 2 <= x0 * MM, text
        assert x1 * MM <= left + sheet.width - 2, text
        assert top + 1 <= y0 * MM, text
        assert y1 * MM <= top + sheet.height - 1, text
        assert min(x0 * MM, PAPERS[sheet.paper].width - x1 * MM) >= 4.4, "the printer does not reach there"


@pytest.mark.parametrize("start", [1, 5, 21])
def test_a_part_used_sheet_is_begun_where_it_was_left(start: int) -> None:
    sheet = SHEETS["3x7"]
    document = pressed(sheet, [Label(f"No {n}") for n in range(3)], start)
    places = [place for page in document for place in edges(page)]
    wanted = [sheet.place((start - 1 + n) % sheet.count + 1) for n in range(3)]
    assert [p[:2] for p in places] == [pytest.approx(w, abs=0.2) for w in wanted]
    assert document.page_count == (2 if start == 21 else 1)


def test_no_edges_are_drawn_for_the_real_print() -> None:
    assert edges(pressed(SHEETS["2x4"], [Label("Clutch nut")], outline=False)[0]) == []


@pytest.mark.parametrize("start", [0, 22, -3])
def test_a_position_that_the_sheet_has_not(start: int) -> None:
    with pytest.raises(LabelError) as refused:
        pressed(SHEETS["3x7"], [Label("Clutch nut")], start)
    assert str(refused.value) == f"a sheet of 3x7 has positions 1 to 21: {start} is not one of them"


def test_words_that_no_type_makes_fit_are_refused() -> None:
    with pytest.raises(LabelError) as refused:
        pressed(SHEETS["5x13"], [Label("Clutch nut", lines=("a line that is much too long " * 6,))])
    assert str(refused.value) == (
        '"Clutch nut" does not fit on a label of 38.1 by 21.2 mm: choose a sheet with larger labels'
    )


def test_what_may_be_left_out_goes_first() -> None:
    small = pressed(SHEETS["5x13"], [Label("Clutch nut", lines=("must",), more=("may one", "may two"))])
    large = pressed(SHEETS["2x4"], [Label("Clutch nut", lines=("must",), more=("may one", "may two"))])
    assert " ".join(small[0].get_text().split()).startswith("Clutch nut must")
    assert " ".join(large[0].get_text().split()) == "Clutch nut must may one may two"


SOUND = SHEETS["3x7"]


@pytest.mark.parametrize(("changes", "said"), [
    ({"columns": 4}, [("columns", "grid-wider-than-page", "4 labels reach 268.8 mm across, and A4 is 210 mm wide")]),
    ({"rows": 8}, [("rows", "grid-higher-than-page", "8 labels reach 319.9 mm down, and A4 is 297 mm high")]),
    ({"left": 12.0}, []),
    ({"left": 15.0}, [("columns", "grid-wider-than-page", "3 labels reach 210.5 mm across, and A4 is 210 mm wide")]),
    ({"across": 60.0}, [("across", "labels-overlap", "labels 63.5 mm wide cannot lie 60 mm apart")]),
    ({"down": 38.0}, [("down", "labels-overlap", "labels 38.1 mm high cannot lie 38 mm apart")]),
    ({"width": 20.0}, [("width", "label-too-small", "a label that is less than 25 mm in width holds no words")]),
    ({"columns": 0}, [("columns", "no-grid", "a sheet has 1 to 40 columns and 1 to 60 rows of labels")]),
    ({"paper": "A9"}, [("paper", "unknown-paper", 'there is no paper called "A9"; known: ' + ", ".join(PAPERS))]),
])  # fmt: skip
def test_grids_that_do_not_fit(changes: dict[str, object], said: list[tuple[str, str, str]]) -> None:
    assert misfits(LabelSheet(**{**SOUND.__dict__, **changes})) == said  # type: ignore[arg-type]


def test_a_plate_has_the_club_s_colour_unless_a_black_banner_speaks() -> None:
    """Ordinary labels follow the club; "do not refit", spares and DO NOT START stay black all over."""
    club = _club().club
    assert club is not None
    green = club.value.model_copy(update={"style": club.value.style.model_copy(update={"plate": "#1a4d2e"})})
    labels = [
        Label("Drum", plate="017", mark="4"),
        Label("Drum", plate="018", banner="DO NOT REFIT"),
        Label("Drum", plate="019", banner="DO NOT START", warns=True),
    ]
    page = labels_page(labels, SHEETS["2x4"], 1, green, "Labels")
    outcome = press(plain_order("labels", page, "Club", ON, ()))
    assert outcome.pressed is not None, outcome.faults
    with pymupdf.open(stream=outcome.pressed.pdf) as document:
        grounds = {
            number: {
                tuple(round(255 * part) for part in drawing["fill"])
                for drawing in document[0].get_drawings()
                if drawing["fill"] and drawing["rect"].contains(document[0].search_for(number)[0])
            }
            for number in ("017", "018", "019")
        }
    assert grounds == {"017": {(0x1A, 0x4D, 0x2E)}, "018": {(0, 0, 0)}, "019": {(0, 0, 0)}}
