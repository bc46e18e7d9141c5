"""The press holds the templates to what they ask for: room round a tick box, a row in one piece."""

from __future__ import annotations

from dataclasses import replace

import pytest

from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff
from tests.demo.conftest import _job
from tests.sheets.sample import sample_club

SPOILT = {
    "a row that is higher than a face": (
        "#row-1 .line { line-height: 300mm !important }",
        "too high for a face",
    ),
    "a figure wider than its cell": (
        ".fig b { font-size: 30mm !important; white-space: nowrap }",
        "sticks out",
    ),
}


def faults(css: str) -> tuple[str, ...]:
    job, club = _job("023", "carburettor-service"), sample_club("A4", "700 mm")
    page = leaf(job, club)
    outcome = press(order("test", replace(page, css=page.css + css), job, club.club))
    return outcome.faults if outcome.pressed is None else ()


def test_the_page_as_it_is_has_no_fault() -> None:
    assert faults("") == ()


@pytest.mark.parametrize("what", SPOILT)
def test_a_spoilt_page_is_refused(what: str) -> None:
    css, said = SPOILT[what]
    assert any(said in fault for fault in faults(css)), faults(css)


def test_a_tick_of_the_sign_off_sheet_has_room_for_the_camera() -> None:
    """Every tick box asks for 1 mm of clear paper, and the page has it (the press's own tests show a field without)."""
    job, club = _job("023", "clutch-service"), sample_club("A4", "700 mm")
    page = signoff(job, club)
    assert page.html.count('type="checkbox" data-keep-clear="1 mm"') == page.html.count('type="checkbox"') > 5
    assert press(order("test", page, job, club.club, forms=True)).pressed is not None
