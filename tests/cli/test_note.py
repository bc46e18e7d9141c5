"""note: what is found or changed away from a sheet, as a member uses it, and what the record gives back."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from docgen.cli import note
from docgen.club.read import read_club
from docgen.job.state import EngineState, state_of
from docgen.returns.noting import deviations_of
from tests.cli.record_club import TODAY, log_of, numbered, on_the_day, say


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    for each in note.command.commands.values():
        for option in each.params:
            if option.name == "on":
                monkeypatch.setattr(option, "default", lambda: TODAY)
    return numbered(tmp_path / "club")


def state(root: Path) -> EngineState:
    folder = read_club(root)
    assert folder.problems == []
    return state_of(folder.engines["7A"], TODAY)


def test_a_finding_is_due_until_it_is_dealt_with(root: Path) -> None:
    result = say(root, "note", "finding", "7A", "Weeps oil", "--part", "rotor", "--calls", "ROT", "--by", "Bo Lind",
                 typed="y\n")  # fmt: skip
    (name,) = log_of(root, "7A")
    assert (result.exit_code, result.stdout) == (0, f"""\
engine 7A, 2030-06-10: finding
  finding: Weeps oil
  item: rotor
  calls: rotor-service
  by: Bo Lind
Write this into the record? [y/N]: y
Filed: engines/7A/log/{name}
""")
    (finding,) = state(root).findings
    listed = say(root, "note", "finding", "7A")
    assert listed.stdout == f"{finding.digest[:8]}  2030-06-10  Weeps oil  (calls for rotor-service)\n"
    assert "Weeps oil" in say(root, "due", "7A", "--on", "2030-06-10").stdout
    assert say(root, "note", "dealt-with", "7A", finding.digest[:8], "Seal renewed", "--yes").exit_code == 0
    assert state(root).findings == []
    assert say(root, "note", "finding", "7A").stdout == "Nothing is open.\n"


def test_one_finding_of_a_sheet_with_several_is_dealt_with_alone(root: Path) -> None:
    from docgen.returns.filing import file_event

    findings = [f"finding {n}" for n in range(12)]
    service = {"event": "service", "procedure": "rotor-service", "revision": "1", "date": "2030-05-01"}
    file_event(root, "7A", {**service, "findings": findings})
    rows = say(root, "note", "finding", "7A").stdout.splitlines()
    assert len(rows) == 12
    assert say(root, "note", "dealt-with", "7A", rows[1].split()[0], "Wiped off", "--yes").exit_code == 0
    assert [f.text for f in state(root).findings] == [text for text in findings if text != "finding 1"]
    result = say(root, "note", "dealt-with", "7A", rows[1].split()[0], "Wiped off", "--yes")
    assert (result.exit_code, result.stdout) == (1, f"""\
  refused unknown-finding: no open finding is called "{rows[1].split()[0]}"
    give at least 6 of the digits that stand before it in the list
Nothing was written.
""")


def test_a_deviation_changes_the_figures_and_ends(root: Path) -> None:
    result = say(root, "note", "deviation", "7A", "plate-screws", "One hole re-tapped", "--why", "stripped",
                 "--now", "thread=M8x1.25", "--now", "boss.material=aluminium", "--now", "boss.engaged=12 mm",
                 "--yes")  # fmt: skip
    assert result.exit_code == 0, result.stdout
    (made,) = state(root).deviations
    assert made.changes is not None
    assert made.changes.boss is not None
    assert (str(made.changes.thread), str(made.changes.boss.engaged)) == ("M8x1.25", "12 mm")
    (digest,) = deviations_of(read_club(root).engines["7A"])
    listed = say(root, "note", "deviation", "7A").stdout
    assert listed == f"{digest[:8]}  2030-06-10  plate-screws: One hole re-tapped\n"
    assert say(root, "note", "as-model", "7A", digest[:8], "Bush fitted", "--yes").exit_code == 0
    assert state(root).deviations == []
    assert say(root, "note", "deviation", "7A").stdout == "It is as its model.\n"


def test_setting_keeper_and_interval(root: Path) -> None:
    assert say(root, "note", "setting", "7A", "timing", "1.9 mm", "--yes").exit_code == 0
    assert say(root, "note", "keeper", "7A", "Jón Þórsson", "--yes").exit_code == 0
    every = ("--hours", "8 h", "--months", "6")
    assert say(root, "note", "interval", "7A", "rotor-service", *every, "--yes").exit_code == 0
    now = state(root)
    own = now.intervals["rotor-service"]
    assert now.settings["timing"] == (TODAY, "1.9 mm")
    assert now.keeper == "Jón Þórsson"
    assert own.hours is not None
    assert (own.hours.exactly("h"), own.months, own.meetings) == (Fraction(8), 6, None)


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (("finding", "7A", " "), "no-text: what was found is not said\n    say it in a few words, in quotes"),
        (("finding", "7A", "Leaks", "--part", "rotr"),
         'unknown-part: there is no part "rotr" for this engine\n    did you mean "rotor"?'),
        (("finding", "7A", "Leaks", "--calls", "top-end"),
         'unknown-job: there is no job "top-end" for this engine\n    known: rotor-service'),
        (("setting", "7A", "timming", "2 mm"),
         'unknown-setting: there is no setting "timming" for this engine\n    did you mean "timing"?'),
        (("interval", "7A", "rotor-service"),
         'no-interval: how often is not said\n    say it as in --hours "8 h" or --months 6'),
        (("dealt-with", "7A", "abc", "Done"),
         'unknown-finding: no open finding is called "abc"\n'
         "    give at least 6 of the digits that stand before it in the list"),
        (("as-model", "7A", "abcdef", "Done"),
         'unknown-deviation: no open deviation is called "abcdef"\n'
         "    give at least 6 of the digits that stand before it in the list"),
        (("keeper", "7A", ""), "no-text: who keeps the engine now is not said\n    say it in a few words, in quotes"),
    ],
)  # fmt: skip
def test_what_cannot_be_noted_says_why(root: Path, words: tuple[str, ...], answer: str) -> None:
    result = say(root, "note", *words, "--yes")
    assert (result.exit_code, result.stdout) == (1, f"  refused {answer}\nNothing was written.\n")
    assert log_of(root, "7A") == []


def test_a_wrong_key_is_told_by_its_name(root: Path) -> None:
    result = say(root, "note", "deviation", "7A", "rotor-nut", "Re-tapped", "--now", "thred=M6", "--yes")
    assert result.exit_code == 1
    assert result.stdout == (
        '  refused unknown-key: "thred" is not a key known here\n    did you mean "thread"?\nNothing was written.\n'
    )
    assert log_of(root, "7A") == []


def test_a_day_to_come_is_refused_and_a_no_writes_nothing(root: Path) -> None:
    assert "date-in-future" in say(root, "note", "keeper", "7A", "Bo", "--on", "2031-01-01", "--yes").stdout
    assert say(root, "note", "keeper", "7A", "Bo", typed="n\n").stdout.endswith("Nothing was written.\n")
    assert log_of(root, "7A") == []
    assert date(2030, 6, 10) == TODAY
