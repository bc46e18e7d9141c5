"""The first evening, typed at a terminal: few questions, few keys, no error about what nobody asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.event import Service
from tests.guides.first_evening import CLUB, MODEL, PAGE, PICTURES, Evening, counts, errors, evening, page


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Evening:
    return evening(tmp_path_factory.mktemp("evening"))


def test_every_command_ended_well_and_spoke_of_no_error(played: Evening) -> None:
    assert {name: one.ended for name, one in played.said.items() if one.ended} == {}
    assert errors(played) == 0
    assert len(played.said) == 11


def test_the_first_sheet_comes_after_few_questions(played: Evening, capsys: pytest.CaptureFixture[str]) -> None:
    assert played.count("club", "model", "engine 11", "print")[0] <= 25
    assert played.count("engine 11", "engine 12")[0] <= 12
    assert played.count("receive")[0] == 1
    with capsys.disabled():
        print(f"\n{counts(played)}")  # noqa: T201 - the evening's figures, for who runs it


def test_a_clean_sheet_takes_few_keys(played: Evening) -> None:
    assert int(counts(played).partition("clutch sheet in ")[2].partition(" keys")[0]) <= 12


def test_it_is_in_the_record(played: Evening) -> None:
    folder = read_club(Path(played.root / CLUB))
    assert [one for one in folder.problems if one.level == "error"] == []
    (service,) = folder.engines["11"].log.of(Service)
    assert (service.procedure, service.by) == ("clutch-service", "Jo Ash")
    assert [str(one) for one in service.readings["drum-bore"]] == ["74.10 mm", "74.12 mm"]
    assert service.first_run is not None
    model = folder.models[MODEL].value
    assert "starter-drive" not in model.parts
    assert model.fasteners["clutch-nut"].catch == "clip"


def test_what_both_clubs_changed_came_together(played: Evening) -> None:
    text = (played.root / CLUB / "procedures/clutch-service.yaml").read_text("utf-8")
    assert "Slate says so." in text
    assert "title: Clutch - clean, inspect, regrease" in text


def test_the_page_is_what_was_said(played: Evening) -> None:
    assert page(played) == PAGE.read_text("utf-8")
    assert all((PAGE.parent / "pictures" / name).is_file() for name in PICTURES)
