"""`docgen enter` when all is well: few keys; and put right without losing what was filed."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.club.schema.event import Service
from docgen.job.marks import LookMark
from docgen.returns.identity import sheet_numbered, typed_number
from docgen.returns.reading import understand
from docgen.returns.refiling import refilled
from tests.returns.conftest import GOOD, NUMBER, TODAY, Club, club_at

KEYS = ["", "y", "W-100", "0,30", "18:30", "S-100", "Scrutineer", "S-101", "", "y"]
"""Name, all so, wrench, gap, the hold, the seals, findings, write."""


@pytest.fixture
def fresh(tmp_path: Path) -> Club:
    return club_at(tmp_path)


def enter(club: Club, *typed: str, more: tuple[str, ...] = ()) -> Result:
    words = ["--club", str(club.root), "enter", NUMBER, "--on", "2030-04-10", *more]
    text = "".join(f"{t}\n" for t in typed)
    return CliRunner().invoke(docgen, words, prog_name="docgen", input=text, catch_exceptions=False)


def filed(club: Club) -> Service:
    folder = read_club(club.root)
    assert [str(p) for p in folder.problems] == []
    (service,) = folder.engines["7A"].log.of(Service)
    return service


def asked(result: Result) -> list[str]:
    """The questions, one for each line that was typed."""
    return [line for line in result.stdout.splitlines() if ": " in line and line.strip()[0] != '"']


def test_when_all_is_well_a_sheet_takes_its_readings_and_few_keys(fresh: Club) -> None:
    result = enter(fresh, "Jo Ash", *KEYS[1:])
    assert result.exit_code == 0, result.output
    assert result.stdout.split("\nAll so?")[0] == f"""\
{NUMBER}  Rotor - clean and regrease, engine 7A
printed on 2030-04-01, issue {fresh.sheet.job.issue_digest[:12]}, as at the foot of the paper
Work done and released by (name): Jo Ash
Taken, when all is well:
  done and released on 2030-04-10 at 4.0 h, by Jo Ash (JA)
  2 points looked at, and ways round: good
  before the release: Turn the rotor by hand
  12 rotor nut tightened to 34 N·m ± 10 %
  renewed: 14 plate gasket W-12"""
    service = filed(fresh)
    assert (service.by, str(service.date), str(service.hours)) == ("Jo Ash", "2030-04-10", "4.0 h")
    assert (service.torques["rotor-nut"].wrench, service.initials) == ("W-100", {"tighten-rotor-nut": "JA"})
    assert [str(one) for one in service.readings["rotor-gap"]] == ["0.30 mm"]
    assert service.renewed == {"plate-gasket": "W-12"}
    assert set(service.checked.values()) == {"good"}
    assert (service.holds["gap-seen"].own, service.holds["gap-seen"].at) == (True, "18:30")
    assert service.released is not None
    assert (service.released.by, str(service.released.on)) == ("Jo Ash", "2030-04-10")


def test_what_was_not_so_is_said_by_the_rows_of_the_paper(fresh: Club) -> None:
    result = enter(fresh, "Jo Ash", "date 5.4.30", "hours 3,9", "initials J", "what", "14 not renewed",
                   *KEYS[2:8], "Gasket was whole", "", "", "y")  # fmt: skip
    assert result.exit_code == 0, result.output
    assert '  "what" is not understood: y, n, rows of the sheet, or one of the words\n' in result.stdout
    service = filed(fresh)
    assert (str(service.date), str(service.hours)) == ("2030-04-05", "3.9 h")
    assert service.initials["tighten-rotor-nut"] == "J"
    assert (service.renewed, service.findings) == ({}, ("Gasket was whole",))


def test_a_point_that_was_not_good_is_a_finding(fresh: Club) -> None:
    label = next(step.called for step in fresh.sheet.job.instructions.steps
                 if any(isinstance(mark, LookMark) and mark.key == "spacer-flat" for mark in step.marks))  # fmt: skip
    result = enter(fresh, "Jo Ash", f"{label} bent", *KEYS[2:9], "", "y")
    assert result.exit_code == 0, result.output
    service = filed(fresh)
    assert service.checked["spacer-flat"] == "not good"
    (finding,) = service.findings
    assert finding.endswith(": bent")


def test_with_no_every_box_is_asked_for(fresh: Club) -> None:
    result = enter(fresh, "Jo Ash", "n", "stop")
    assert result.exit_code == 0
    assert "\n  Work started on (year-month-day): stop\n" in result.stdout
    assert not (fresh.root / "engines/7A/log").exists()


def test_a_lone_preparer_ticks_his_own_recheck_from_the_message_that_asks_for_it(fresh: Club) -> None:
    result = enter(fresh, "Jo Ash", *KEYS[1:4], "", *KEYS[5:9], "y", "19:10", "y")
    assert result.exit_code == 0, result.output
    assert "hold-open" in result.stdout
    assert filed(fresh).holds["gap-seen"].at == "19:10"


def test_stopped_it_goes_on_where_it_was(fresh: Club) -> None:
    enter(fresh, "Jo Ash", "y", "W-100", "stop")
    result = enter(fresh, *KEYS[3:])
    assert result.exit_code == 0, result.output
    assert "\nGoing on at: Rotor gap\n" in result.stdout
    assert filed(fresh).torques["rotor-nut"].wrench == "W-100"


def test_the_checks_after_the_first_run_are_added_and_nothing_else_is_touched(fresh: Club) -> None:
    enter(fresh, "Jo Ash", *KEYS[1:])
    before = filed(fresh)
    result = enter(fresh, "", "20 min", "y", more=("--after-run",))
    assert result.exit_code == 0, result.output
    after = filed(fresh)
    assert after.first_run is not None
    assert (str(after.first_run.on), after.first_run.time, after.first_run.by) == ("2030-04-10", "20 min", "Jo Ash")
    added = {name: value for name, value in after.checked.items() if name not in before.checked}
    assert set(added.values()) == {"done"}
    same = {"checked": before.checked, "first_run": None, "blank": before.blank, "parents": before.parents,
            "date": before.date}  # fmt: skip
    assert after.model_copy(update=same) == before.model_copy(update=same)


def test_what_was_filed_stands_in_the_boxes_again(fresh: Club) -> None:
    answers = GOOD | {"findings": "Rubs a little\nWet behind", "struck": "row 3", "after-run-date": "2030-04-04"}
    event = Service.model_validate(understand(fresh.sheet, answers, TODAY, 3).event)
    sheet = sheet_numbered(typed_number(NUMBER), fresh.folder)
    assert understand(sheet, refilled(sheet, event), TODAY, 3).event == understand(sheet, answers, TODAY, 3).event


def test_putting_one_reading_right_keeps_the_rest(fresh: Club) -> None:
    enter(fresh, "Jo Ash", *KEYS[1:8], "Rubs a little", "", "", "y")
    before = filed(fresh)
    kept = enter(fresh, *[""] * 6, "0.31", *[""] * 30, "y", more=("--correct", "misread"))
    assert "Reading (mm) [0.30 mm]: 0.31" in kept.stdout, kept.output
    after = filed(fresh)
    assert [str(one) for one in after.readings["rotor-gap"]] == ["0.31 mm"]
    same = {"readings": before.readings}
    assert after.model_copy(update=same) == before.model_copy(update=same)


def test_taking_a_finding_or_a_reading_away_needs_a_word_of_its_own(fresh: Club) -> None:
    enter(fresh, "Jo Ash", *KEYS[1:8], "Rubs a little", "", "", "y")
    before = filed(fresh)
    typed = ("",) * 6 + ("-",) + ("",) * 30
    refused = enter(fresh, *typed, "", more=("--correct", "misread"))
    assert "This takes out of the record what was filed:\n  readings rotor-gap: 0.30 mm\n" in refused.stdout
    assert refused.exit_code == 1
    assert filed(fresh) == before
    done = enter(fresh, "take away", "y", more=("--correct", "misread"))
    assert done.exit_code == 0, done.output
    assert filed(fresh).readings == {}
