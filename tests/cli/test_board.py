"""``docgen board`` as a member meets it."""

from __future__ import annotations

import json
from pathlib import Path

import pypdf

from tests.cli.record_club import say
from tests.smallclub import write

DAY = ("--on", "2030-04-01")


def test_the_board_of_a_small_club(tmp_path: Path) -> None:
    result = say(write(tmp_path), "board", *DAY)
    assert (result.exit_code, result.output) == (0, f"Due board, 1 page: {tmp_path}/out/board.pdf\n")


def test_hours_that_nobody_knows_are_those_since_the_record_began(tmp_path: Path) -> None:
    """The life of a part of such an engine is used up by nobody knows how much."""
    root = write(tmp_path)
    assert say(root, "board", *DAY).exit_code == 0
    (page,) = pypdf.PdfReader(root / "out/board.pdf").pages
    text = " ".join(page.extract_text().split())
    assert " 8BDue · 0.0 h since the record began Rotor ? of 10 h 1 No record that it was ever done: ROT. " in text
    assert " 7ADue · 4.0 h Rotor 4.0 of 10 h No record" in text


def test_for_a_script(tmp_path: Path) -> None:
    said = json.loads(say(write(tmp_path), "board", "--json", *DAY).output)
    assert said["rounds"] == [{"round": "First", "date": "2030-05-05"}, {"round": "Second", "date": "2030-06-02"}]
    assert [one["engine"] for one in said["engines"]] == ["8B", "7A"]
    assert said["engines"][1] == {
        "engine": "7A", "model": "Willow 80", "keeper": "Ágnes Őry", "hours": 4.0, "hours_known": True,
        "state": "due",
        "bars": [{"job": "", "part": "rotor", "state": "in date", "unit": "hours", "used": 4.0, "allowed": 10.0,
                  "until": None, "before_round": None}],
        "unrecorded": ["ROT"], "notes": [],
    }  # fmt: skip
    unknown = said["engines"][0]
    assert (unknown["hours"], unknown["hours_known"], unknown["bars"][0]["used"]) == (0.0, False, None)
    assert not (tmp_path / "out").exists()


def test_paper_that_is_not_for_a_wall(tmp_path: Path) -> None:
    result = say(write(tmp_path), "board", "--paper", "A5", *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == 'Error: a board is not printed on "A5"; this club can print it on A3, A4'


def test_a_club_without_engines(tmp_path: Path) -> None:
    root = write(tmp_path, {"engines/7A/engine.yaml": None, "engines/8B/engine.yaml": None})
    result = say(root, "board", *DAY)
    assert (result.exit_code, result.output) == (0, "There are no engines: there is nothing to put on a board.\n")


def test_a_faulty_file_stops_it(tmp_path: Path) -> None:
    root = write(tmp_path, {"engines/7A/engine.yaml": "engine: 7A\n"})
    result = say(root, "board", *DAY)
    assert result.exit_code == 1
    assert result.stderr.startswith("engines/7A/engine.yaml:1:1 missing-key:")
    assert not (tmp_path / "out").exists()
