"""``docgen board`` as a member meets it."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.record_club import say
from tests.smallclub import write

DAY = ("--on", "2030-04-01")


def test_the_board_of_a_small_club(tmp_path: Path) -> None:
    result = say(write(tmp_path), "board", *DAY)
    assert (result.exit_code, result.output) == (0, f"Due board, 1 page: {tmp_path}/out/board.pdf\n")


def test_for_a_script(tmp_path: Path) -> None:
    said = json.loads(say(write(tmp_path), "board", "--json", *DAY).output)
    assert said["rounds"] == [{"round": "First", "date": "2030-05-05"}, {"round": "Second", "date": "2030-06-02"}]
    assert [one["engine"] for one in said["engines"]] == ["8B", "7A"]
    assert said["engines"][1] == {
        "engine": "7A", "model": "Willow 80", "keeper": "Ágnes Őry", "hours": 4.0, "state": "due",
        "bars": [{"job": "", "part": "rotor", "state": "in date", "unit": "hours", "used": 4.0, "allowed": 10.0,
                  "until": None, "before_round": None}],
        "unrecorded": ["ROT"], "notes": [],
    }  # fmt: skip
    assert said["engines"][0]["bars"][0]["used"] is None
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
