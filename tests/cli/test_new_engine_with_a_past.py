"""What was done before an engine's record began: said in a line and counted; what is not known stays unknown."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.components import components
from docgen.job.figures import Figures
from docgen.job.state import state_of
from docgen.plan.due import DueLine, due_list
from docgen.plan.lives import PartLife, part_lives
from docgen.returns.diagnostic import Refused
from docgen.returns.past import read_past
from tests.cli.record_club import on_the_day, say
from tests.smallclub import write

RECEIVED = date(2030, 6, 1)
DAY = "2030-06-10"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    return write(tmp_path / "club")


def engine(root: Path, *words: str) -> tuple[Folder, DueLine, PartLife]:
    """Engine 9 as it was received, its rotor job and its rotor."""
    made = say(root, "new", "engine", "9", "--keeper", "Jo", "--received", RECEIVED.isoformat(), *words, "--yes")
    assert made.exit_code == 0, made.output
    folder = read_club(root)
    assert folder.problems == []
    record = folder.engines["9"]
    figures = Figures(folder.club.value, folder.models["willow-80"].value, state_of(record, date(2030, 6, 10)))
    (life,) = part_lives(figures, dict(components(folder, date(2030, 6, 10))))
    (line,) = [one for one in due_list(folder, date(2030, 6, 10), ("9",)) if one.job == "rotor-service"]
    return folder, line, life


def test_a_part_counts_from_when_it_was_new_and_a_job_from_when_it_was_done(root: Path) -> None:
    _, line, life = engine(root, "--hours", "31 h", "--before", "rotor new in May, 3 h ago; ROT 12.4.30 2,5 h ago")
    assert (life.used, life.allowed) == (3, 10)
    assert (line.state, line.last_done) == ("in date", "2030-04-12, before this record")
    assert line.reasons == ("2.5 h of 5.0 h run since", "every 6 months: is due by 2030-10-12")


def test_what_is_not_known_is_never_the_engine_s_hours(root: Path) -> None:
    folder, line, life = engine(root, "--hours", "31 h")
    assert life.used is None
    assert line.reasons == ("no record that it was ever done",)
    texts = [one for each in due_list(folder, date(2030, 6, 10), ("9",)) for one in each.reasons]
    assert "rotor: its age is not known (allowed 10.0 h)" in texts


def test_hours_since_a_day_that_is_known_are_at_least_those_of_the_record(root: Path) -> None:
    say(root, "new", "engine", "9", "--keeper", "Jo", "--received", "2030-06-01", "--before", "ROT April 2030", "--yes")
    assert say(root, "ran", "9", "30", "--on", "2030-06-05", "--yes").exit_code == 0
    (line,) = [one for one in due_list(read_club(root), date(2030, 6, 10), ("9",)) if one.job == "rotor-service"]
    said = "at least 0.5 h of 5.0 h run since; what it ran before the record is not known"
    assert said in [one.text for one in line.every]


def test_a_day_that_is_not_known_is_said_to_be_earlier(root: Path) -> None:
    _, line, _ = engine(root, "--before", "ROT 1 h")
    assert line.last_done == "1.0 h before this record began"
    assert "every 6 months: is due by 2030-12-01 at the latest; the day it was done is not known" in [
        one.text for one in line.every
    ]


def test_the_past_of_a_table(root: Path, tmp_path: Path) -> None:
    table = tmp_path / "past.csv"
    table.write_text("what;when;hours\r\nrotor;1.5.2030;3,5\r\nROT;April 2030;\r\n", "utf-8")
    _, _, life = engine(root, "--before-from", str(table))
    assert life.used == 3.5
    assert (root / "engines/9/engine.yaml").read_text("utf-8").partition("\nbefore:\n")[2] == (
        "  rotor: {on: 2030-05-01, ago: 3.5 h}\n  rotor-service: {on: 2030-04-01}\n"
    )


def test_five_questions_an_engine_and_one_of_them_its_past(root: Path) -> None:
    made = say(root, "new", "engine", "9", typed="\nJo\n\nnew 3\n31,5 h\nrotr 3 h\nrotor 3 h\n")
    assert made.exit_code == 0, made.output
    assert [line for line in made.output.splitlines() if line.startswith(("Done", "Error"))] == [
        'Error: "new 3" cannot be read as a figure with its unit; write a figure and its unit, as in 34 s',
        "Done or renewed before, as in  chain 6 h; clutch-hub new in September, 3 h ago; POP October 2026 "
        "(empty: not known): rotr 3 h",
        'Error: there is no job and no part "rotr": did you mean rotor?',
        "Done or renewed before, as in  chain 6 h; clutch-hub new in September, 3 h ago; POP October 2026 "
        "(empty: not known): rotor 3 h",
    ]
    assert "hours: 31.5 h" in (root / "engines/9/engine.yaml").read_text("utf-8")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("rotor", 'no-time: "rotor" does not say when'),
        ("rotor 3 h; rotor 4 h", "twice: rotor is named twice"),
        ("plate 3 h", 'several-names: "plate" may be side-plate, plate-gasket, plate-screws'),
        ("3 h", 'unknown-name: "3 h" names no job and no part'),
        ("rotor 31.2.2030", 'not-a-date: "31.2.2030" is not a date'),
    ],
)
def test_what_is_not_understood_is_said(root: Path, text: str, said: str) -> None:
    folder = read_club(root)
    with pytest.raises(Refused) as refused:
        read_past(text, folder, folder.models["willow-80"].value, RECEIVED)
    assert f"{refused.value.said.name}: {refused.value.said.message}" == said
