"""`docgen ran` as a member uses it after a day at the track: whole answers."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.event import Run
from tests.cli.record_club import log_of, numbered, on_the_day, say


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    return numbered(tmp_path / "club")


def test_two_engines_after_a_round(root: Path) -> None:
    words = ["ran", "7A", "3x12", "8B", "12+10", "--on", "2030-05-05", "--peak-speed", "104 km/h",
             "--peak-temperature", "182 degC", "--air", "14 degC, dry", "--needles", "L 1.50, H 0.25",
             "--fuel", "25:1", "--batch", "B7", "--note", "Wet track", "--by", "Bo Lind"]  # fmt: skip
    result = say(root, *words, typed="y\n")
    (one,), (two,) = log_of(root, "7A"), log_of(root, "8B")
    facts = (
        "peak speed 104 km/h; peak temperature 182 °C; air 14 degC, dry; needles L 1.50, H 0.25; fuel 25:1; "
        "batch B7; note Wet track; by Bo Lind"
    )
    assert (result.exit_code, result.stderr) == (0, "")
    assert (
        result.stdout
        == f"""\
7A  2030-05-05  ran 36 min (3 x 12 min) at First
  4.0 h before, 4.6 h after
  {facts}
8B  2030-05-05  ran 22 min (12 + 10 min) at First
  0.4 h since the record began; what it ran before is not known
  {facts}
Write these 2 into the record? [y/N]: y
Filed: engines/7A/log/{one}
Filed: engines/8B/log/{two}
"""
    )
    assert (root / "engines/7A/log" / one).read_text("utf-8") == (
        "event: run\ndate: 2030-05-05\nhours: 36 min\nsessions: 3 x 12 min\nmeeting: First\npeak_speed: 104 km/h\n"
        "peak_temperature: 182 degC\nair: 14 degC, dry\nneedles: L 1.50, H 0.25\nfuel: 25:1\nbatch: B7\n"
        "note: Wet track\nby: Bo Lind\n"
    )


@pytest.mark.parametrize("typed", ["n\n", "\n", ""])
def test_nothing_is_written_without_a_yes(root: Path, typed: str) -> None:
    result = say(root, "ran", "7A", "36", "--on", "2030-05-06", typed=typed)
    assert result.exit_code == 1
    assert result.stdout.endswith("Nothing was written.\n")
    assert log_of(root, "7A") == []


def test_what_is_filed_already_is_said_and_the_rest_is_filed(root: Path) -> None:
    """As when the first try was cut off between two engines."""
    say(root, "ran", "7A", "36", "--on", "2030-05-06", "--yes")
    result = say(root, "ran", "7A", "8B", "36", "--on", "2030-05-06", "--yes")
    (one,), (two,) = log_of(root, "7A"), log_of(root, "8B")
    assert result.exit_code == 0
    assert (
        result.stdout
        == f"""\
7A  2030-05-06  ran 36 min
  already filed, as {one}; --again enters it a second time
8B  2030-05-06  ran 36 min
  0.6 h since the record began; what it ran before is not known
Filed: engines/8B/log/{two}
"""
    )
    again = say(root, "ran", "7A", "36", "--on", "2030-05-06", "--again", "--yes")
    assert again.exit_code == 0
    assert len(log_of(root, "7A")) == 2
    third = say(root, "ran", "7A", "36", "--on", "2030-05-06", "--yes")
    assert third.exit_code == 0
    assert third.stdout.endswith("--again enters it a second time\nNothing was written.\n")


def test_doubts_are_asked_once_and_yes_does_not_settle_them(root: Path) -> None:
    say(root, "ran", "7A", "36", "--on", "2030-05-06", "--yes")
    late = ["ran", "7A", "400", "--on", "2030-05-04"]
    shown = """\
7A  2030-05-04  ran 400 min
  4.0 h before, 10.7 h after
  doubt date-before-last-event: one event is filed for engine 7A after 2030-05-04, the last of 2030-05-06
    it is filed all the same when that is how it was
  doubt long-running: 6.7 h on 2030-05-04 is a long time for engine 7A
    were these minutes?
"""
    result = say(root, *late, "--yes")
    assert (result.exit_code, result.stdout) == (
        1,
        shown + "  --yes does not settle a doubt; --accept date-before-last-event does, once somebody has looked.\n"
        "Nothing was written.\n",
    )
    result = say(root, *late, typed="y\nn\n")
    assert (result.exit_code, result.stdout) == (
        1,
        shown + "date-before-last-event: write it as it stands? [y/N]: y\n"
        "long-running: write it as it stands? [y/N]: n\nNothing was written.\n",
    )
    assert len(log_of(root, "7A")) == 1
    accept = [word for name in ("date-before-last-event", "long-running") for word in ("--accept", name)]
    assert say(root, *late, *accept, "--yes").exit_code == 0
    assert len(log_of(root, "7A")) == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["7A", "36", "--on", "2030-06-11"],
         "7A  2030-06-11  ran 36 min\n  4.0 h before, 4.6 h after\n"
         "  refused date-in-future: 2030-06-11 has not come yet: today is 2030-06-10\n"
         "    write the day on which it was done\nNothing was written.\n"),
        (["7A", "36", "--on", "2029-02-28"],
         "7A  2029-02-28  ran 36 min\n  4.0 h before, 4.6 h after\n"
         "  refused date-before-record: the record of engine 7A begins on 2029-03-01\n"
         "    2029-02-28 is before that: look at the year\nNothing was written.\n"),
        (["7A", "25 h", "--on", "2030-05-06"],
         "7A  2030-05-06  ran 25 h\n  4.0 h before, 29.0 h after\n"
         "  refused longer-than-a-day: 25.0 h on 2030-05-06 is longer than a day\n"
         "    members give minutes, as in 3 x 12 min\nNothing was written.\n"),
        (["7A", "--on", "2030-05-06"],
         "  refused no-time: how long did engine 7A run?\n"
         "    write how long, in minutes, as in 3 x 12, 36 or 12+10+11; hours as in 1.2 h\nNothing was written.\n"),
        (["7A", "36", "--on", "2030-05-06", "--peak-speed", "104"],
         '  refused no-unit: "104" has no unit\n    write it after the figure, as in 104 km/h\nNothing was written.\n'),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(root: Path, words: list[str], said: str) -> None:
    result = say(root, "ran", *words, "--yes", "--accept", "long-running")
    assert (result.exit_code, result.stdout, result.stderr) == (1, said, "")
    assert log_of(root, "7A") == []


def test_neither_or_both_is_a_usage_error(root: Path) -> None:
    for words, said in (
        (["ran"], "say which engines ran and how long, as in: docgen ran 017 3 x 12; or --from a table"),
        (["ran", "7A", "36", "--from", "day.csv"],
         "give words or a table, not both: docgen ran 017 3 x 12, or docgen ran --from TABLE"),
    ):  # fmt: skip
        result = say(root, *words)
        assert (result.exit_code, result.stderr.splitlines()[-1]) == (2, f"Error: {said}")


TABLE = """\
engine,date,ran,fuel
7A,2030-05-05,3x12,25:1
8B,2030-05-05,40,
8C,2030-05-05,40,
7A,2030-06-11,12,
"""


def test_a_table_with_faulty_rows_writes_nothing_without_yes(root: Path, tmp_path: Path) -> None:
    table = tmp_path / "day.csv"
    table.write_text(TABLE, "utf-8")
    shown = """\
7A  2030-05-05  ran 36 min (3 x 12 min) at First, line 2
  4.0 h before, 4.6 h after
  fuel 25:1
8B  2030-05-05  ran 40 min at First, line 3
  0.7 h since the record began; what it ran before is not known
7A  2030-06-11  ran 12 min, line 5
  4.0 h before, 4.2 h after
  refused date-in-future: 2030-06-11 has not come yet: today is 2030-06-10
    write the day on which it was done
"""
    fault = f"""\
{table}:4:1 unknown-engine: there is no engine "8C"
   4 | 8C,2030-05-05,40,
     | ^
       to mend: did you mean "8B"?

1 fault, 0 notes
"""
    fault = fault.replace('did you mean "8B"?', "known here: 7A, 8B")
    result = say(root, "ran", "--from", str(table))
    assert (result.exit_code, result.stdout, result.stderr) == (
        1, shown + "Nothing was written: mend the 2 faulty rows, or file the others with --yes.\n", fault,
    )  # fmt: skip
    assert (log_of(root, "7A"), log_of(root, "8B")) == ([], [])
    result = say(root, "ran", "--from", str(table), "--yes")
    (one,), (two,) = log_of(root, "7A"), log_of(root, "8B")
    assert (result.exit_code, result.stdout, result.stderr) == (
        1, f"{shown}Filed: engines/7A/log/{one}\nFiled: engines/8B/log/{two}\n", fault,
    )  # fmt: skip
    table.write_text(TABLE.replace("8C,2030-05-05,40,\n", "").replace("06-11", "06-01"), "utf-8")
    result = say(root, "ran", "--from", str(table), typed="y\n")
    assert result.exit_code == 0
    folder = read_club(root)
    assert [str(run.hours) for run in folder.engines["7A"].log.of(Run)] == ["36 min", "12 min"]
    assert [str(run.hours) for run in folder.engines["8B"].log.of(Run)] == ["40 min"]


def test_a_table_that_is_not_there(root: Path, tmp_path: Path) -> None:
    result = say(root, "ran", "--from", str(tmp_path / "none.csv"))
    assert (result.exit_code, result.stdout) == (
        1, f"  refused unreadable-file: {tmp_path}/none.csv is not there\n"
        "    look at the name, and whether somebody has just moved it\nNothing was written.\n",
    )  # fmt: skip


def test_an_engine_whose_files_are_wrong_takes_nothing(root: Path) -> None:
    say(root, "ran", "7A", "36", "--on", "2030-05-06", "--yes")
    (name,) = log_of(root, "7A")
    path = root / "engines/7A/log" / name
    path.write_text(path.read_text("utf-8").replace("36", "63"), "utf-8")
    result = say(root, "ran", "7A", "12", "--on", "2030-05-07", "--yes")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.startswith(f"engines/7A/log/{name}:1:1 event-changed: this event was edited")
    assert say(root, "ran", "8B", "12", "--on", "2030-05-07", "--yes").exit_code == 0
