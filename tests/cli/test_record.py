"""verify, join and correct as a member uses them: whole answers."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path

import pytest

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.readlog import read_log
from docgen.club.schema.event import Correction, Run
from docgen.club.store import append
from docgen.job.state import state_of
from docgen.returns.filing import file_event
from tests.cli.record_club import TODAY, log_of, numbered, on_the_day, say

ALONE = " Events missing from an end show only against a printed head: --head."


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Engine 7A with three runs in one history."""
    on_the_day(monkeypatch)
    root = numbered(tmp_path / "club")
    for day in (4, 5, 6):
        file_event(root, "7A", {"event": "run", "date": f"2030-05-0{day}", "hours": f"{day * 10} min", "by": "Bo Lind"})
    return root


def head(root: Path) -> str:
    log, _ = read_log(root, "7A")
    return log.head


def branch(root: Path) -> tuple[str, str]:
    """A second end beside the last run of engine 7A: the two names."""
    log, _ = read_log(root, "7A")
    event = {"event": "run", "date": "2030-05-07", "hours": "12 min", "by": "Ágnes Őry"}
    return log.entries[-1].file, append(root / "engines/7A/log", event, (log.entries[-2].digest,)).name


def test_a_whole_record(root: Path) -> None:
    result = say(root, "verify")
    assert (result.exit_code, result.stderr) == (0, "")
    assert (
        result.stdout
        == f"""\
7A  3 events, 2030-05-04 to 2030-05-06, whole; it ends with {head(root)[:12]}
8B  no event yet

2 logs, 3 events: every file is as it was written, and stands where it was.{ALONE}
"""
    )


def test_an_engine_whose_own_file_is_wrong_is_not_passed_over(root: Path) -> None:
    (root / "engines/7A/engine.yaml").write_text("engine: 7A\n", "utf-8")
    (root / "engines/7A/log" / log_of(root, "7A")[0]).unlink()
    result = say(root, "verify")
    assert result.exit_code == 1
    assert "event-removed" in result.stderr


def test_a_printed_head(root: Path) -> None:
    printed = head(root)[:12]
    last = log_of(root, "7A")[-1]
    line = f"7A  3 events, 2030-05-04 to 2030-05-06, whole; it ends with {printed}\n"
    total = "1 log, 3 events: every file is as it was written, and stands where it was.\n"
    result = say(root, "verify", "7A", "--head", printed.upper())
    assert result.exit_code == 0
    assert result.stdout == f"{line}  {printed} is in the log, as {last}; nothing was filed after it\n\n{total}"
    file_event(root, "7A", {"event": "run", "date": "2030-05-08", "hours": "5 min"})
    new = log_of(root, "7A")[-1]
    result = say(root, "verify", "7A", "--head", printed)
    assert f"  {printed} is in the log, as {last}; filed after it: 1 event\n    {new}\n" in result.stdout
    for name in (new, last):
        (root / "engines/7A/log" / name).unlink()
    result = say(root, "verify", "7A", "--head", printed)
    assert result.exit_code == 1
    assert result.stdout.endswith("1 log, 2 events: 1 problem.\n")
    assert result.stderr == (
        f"engines/7A/log event-missing: the log does not hold the event {printed}, which it once ended with\n"
        "       to mend: it was taken off the end, or changed: restore the log from a backup\n\n1 fault, 0 notes\n"
    )
    assert say(root, "verify", "7A").exit_code == 0, "without a printed head nobody can know"


@pytest.mark.parametrize("wrong", ["", "4cb5", "not a digest"])
def test_a_head_that_is_no_digest_is_not_understood(root: Path, wrong: str) -> None:
    result = say(root, "verify", "7A", "--head", wrong)
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (
        2, f'Error: "{wrong}" is no head: it has at least twelve digits, printed behind "log" on a sheet',
    )  # fmt: skip


def test_head_is_for_one_engine(root: Path) -> None:
    result = say(root, "verify", "--head", "0" * 12)
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (2, "Error: --head is for one engine: say which")


def test_sheets_that_were_printed_since_bear_witness(root: Path) -> None:
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-05-07").exit_code == 0
    last = head(root)
    assert say(root, "verify", "7A").exit_code == 0
    (root / "engines/7A/log" / log_of(root, "7A")[-1]).unlink()
    result = say(root, "verify", "7A")
    assert result.exit_code == 1
    assert result.stderr.splitlines()[0] == (
        f"engines/7A/log event-missing: the log does not hold the event {last[:12]}, which it once ended with: "
        "7A-ROT-03-001 was printed then"
    )


def test_what_was_done_to_the_files_is_named(root: Path) -> None:
    first, second, _ = log_of(root, "7A")
    folder = root / "engines/7A/log"
    (folder / first).write_bytes((folder / first).read_bytes().replace(b"40 min", b"4 min"))
    (folder / second).unlink()
    (folder / "notes.txt").write_text("x", "utf-8")
    result = say(root, "verify", "7A")
    assert result.exit_code == 1
    assert [line.partition(": ")[0] for line in result.stderr.splitlines() if line.startswith("engines/")] == [
        f"engines/7A/log/{first} event-changed",
        f"engines/7A/log/{log_of(root, '7A')[1]} event-removed",
        "engines/7A/log/notes.txt event-added",
    ]
    found = json.loads(say(root, "verify", "7A", "--json").stdout)
    assert [p["name"] for p in found[0]["problems"]] == ["event-changed", "event-removed", "event-added"]


def test_a_sheet_that_two_filed_apart_and_a_paper_that_was_changed(root: Path) -> None:
    service = {"event": "service", "date": "2030-05-07", "procedure": "rotor-service", "revision": "3",
               "issue": "ab" * 32, "file": "signed/a.pdf", "file_digest": digest(b"paper")}  # fmt: skip
    seen = read_log(root, "7A")[0].heads
    one = append(root / "engines/7A/log", service, seen).name
    two = append(root / "engines/7A/log", {**service, "by": "Bo Lind"}, seen).name
    (root / "engines/7A/signed").mkdir()
    (root / "engines/7A/signed/a.pdf").write_bytes(b"other paper")
    (root / "engines/7A/signed/b.pdf").write_bytes(b"never filed")
    result = say(root, "verify", "7A")
    lines = [line for line in result.stderr.splitlines() if line.startswith("engines/")]
    assert sorted({line.split(": ")[0].split(" ")[1] for line in lines}) == [
        "branch-not-joined", "paper-changed", "sheet-twice",
    ]  # fmt: skip
    first, second = sorted((one, two))
    assert f"{second} sheet-twice: this sheet is also filed as {first}" in result.stderr
    assert f"signed/a.pdf paper-changed: the signed sheet of {first} was changed after it was filed" in result.stderr
    assert "  signed/b.pdf belongs to no event: its filing was cut off; file it again\n" in result.stdout
    (root / "engines/7A/signed/a.pdf").unlink()
    assert f"paper-missing: the signed sheet of {first} cannot be read: No such file" in say(root, "verify").stderr


def test_what_a_cut_off_filing_left_is_named_and_tidied_when_it_is_old(root: Path) -> None:
    left = root / "engines/7A/log/.tmp-0123"
    left.write_bytes(b"half")
    before = say(root, "verify", "7A")
    assert before.exit_code == 0
    note = "was left by a filing that was cut off; it is no part of the log (--tidy takes it away)"
    assert f"  engines/7A/log/.tmp-0123 {note}" in before.stdout.splitlines()
    assert "engines/7A/log/.tmp-0123 is new: somebody may be filing; left alone" in say(root, "verify", "--tidy").stdout
    os.utime(left, (time.time() - 7200,) * 2)
    assert "engines/7A/log/.tmp-0123 taken away" in say(root, "verify", "--tidy").stdout
    assert not left.exists()


def test_join_shows_both_branches_and_keeps_them(root: Path) -> None:
    one, two = branch(root)
    result = say(root, "verify", "7A")
    assert result.exit_code == 1
    assert f"engines/7A/log/{two} branch-not-joined: nothing follows this event" in result.stderr
    result = say(root, "join", "--on", "2030-05-08", "--by", "Bo Lind", "--note", "Merged", typed="y\n")
    (new,) = {*log_of(root, "7A")} - {one, two, *log_of(root, "7A")[:2]}
    first, second = (one, "by Bo Lind"), (two, "by Ágnes Őry")
    assert result.exit_code == 0
    assert (
        result.stdout
        == f"""\
Engine 7A: 2 branches
  branch 1
    {first[0]}, {first[1]}
  branch 2
    {second[0]}, {second[1]}
Join them, keeping everything? [y/N]: y
Filed: engines/7A/log/{new}; it joins what was filed apart
"""
    )
    checked = say(root, "verify", "7A")
    assert checked.exit_code == 0
    assert f"  {new} joins what was filed apart: {one} and {two}\n" in checked.stdout
    assert say(root, "join").stdout == "Nothing was filed apart.\n"
    record = read_club(root).engines["7A"]
    assert float(state_of(record, TODAY).hours) == pytest.approx(4 + (40 + 50 + 60 + 12) / 60)


def test_branches_count_before_they_are_joined(root: Path) -> None:
    branch(root)
    record = read_club(root).engines["7A"]
    assert float(state_of(record, TODAY).hours) == pytest.approx(4 + (40 + 50 + 60 + 12) / 60)
    assert say(root, "join", typed="n\n").exit_code == 1
    assert len(log_of(root, "7A")) == 4


def test_a_filing_behind_two_ends_says_that_it_joins_them(root: Path) -> None:
    branch(root)
    result = say(root, "ran", "7A", "12", "--on", "2030-05-09", "--yes")
    assert result.stdout.splitlines()[-1].endswith("; it joins what was filed apart")
    assert say(root, "verify", "7A").exit_code == 0


def test_correct_lists_then_corrects_and_both_stay(root: Path) -> None:
    digits = [e.digest[:8] for e in read_club(root).engines["7A"].log.entries]
    listed = say(root, "correct", "7A")
    assert listed.stdout == "".join(
        f"{digits[n]}  2030-05-0{n + 4}  run: hours {(n + 4) * 10} min, by Bo Lind\n" for n in range(3)
    )
    wrong = log_of(root, "7A")[0]
    words = ["correct", "7A", digits[0], "hours=4 min", "note=Read wrongly", "--why", "A nought too many", "--by", "Bo",
             "--on", "2030-05-08"]  # fmt: skip
    result = say(root, *words, typed="y\n")
    new = next(name for name in log_of(root, "7A") if "correction" in name)
    assert result.exit_code == 0
    assert (
        result.stdout
        == f"""\
{wrong}
  hours: 40 min -> 4 min
  note: (nothing) -> Read wrongly
Write this correction into the record? [y/N]: y
Filed: engines/7A/log/{new}
"""
    )
    log = read_club(root).engines["7A"].log
    assert [str(run.hours) for run in log.of(Run)] == ["4 min", "50 min", "60 min"]
    assert len(log.entries) == 4
    assert say(root, "correct", "7A").stdout.splitlines()[0].endswith("by Bo Lind, corrected")
    again = say(root, *words, "--yes")
    assert (again.exit_code, again.stdout) == (
        1, "  refused nothing-changed: that is what the record says already\nNothing was written.\n",
    )  # fmt: skip
    assert say(root, "verify", "7A").exit_code == 0


def test_an_event_that_never_was_is_struck_out(root: Path) -> None:
    name = log_of(root, "7A")[1]
    result = say(root, "correct", "7A", name, "--strike", "--why", "It was 8B", "--yes", "--on", "2030-05-08")
    assert (result.exit_code, result.stdout.splitlines()[:2]) == (
        0, [name, "  is struck out: nothing of it holds"],
    )  # fmt: skip
    assert [str(run.hours) for run in read_club(root).engines["7A"].log.of(Run)] == ["40 min", "60 min"]
    result = say(root, "correct", "7A", name, "hours=1 min", "--why", "x", "--yes")
    assert result.stdout.startswith("  refused struck-out: this event was struck out before: nothing of it holds\n")


def test_a_correction_of_a_correction_means_the_first_event(root: Path) -> None:
    wrong = log_of(root, "7A")[0]
    for hours in ("4 min", "5 min"):
        assert say(root, "correct", "7A", wrong, f"hours={hours}", "--why", "x", "--yes").exit_code == 0
        wrong = next(e.file for e in reversed(read_club(root).engines["7A"].log.entries) if "correction" in e.file)
    assert str(read_club(root).engines["7A"].log.of(Run)[0].hours) == "5 min"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["ffff0000", "hours=1 h"], 1,
         'refused unknown-event: no event of this log is called "ffff0000"'),
        (["ff", "hours=1 h"], 1, 'refused too-short: "ff" is too short to name an event'),
        (["FIRST", "hous=1 h"], 1, 'refused unknown-key: a run has no "hous"'),
        (["FIRST", "hours=1"], 1,
         'refused no-unit: hours: "1" has no unit\n    write it after the figure, as in 1 h or 1 min\n'),
        (["FIRST", "hours.x=1"], 1, 'refused not-a-value: "hours.x" is no place for a value'),
        (["FIRST", "event=service"], 1, 'refused unknown-key: a run has no "event"'),
        (["FIRST", "hours"], 2, 'Error: "hours" is no KEY=VALUE, as in hours="12 min"'),
        (["FIRST"], 2, 'Error: say what holds instead, as in hours="12 min", or --strike when the event never was'),
        (["FIRST", "hours=1 h", "--strike"], 2,
         'Error: say what holds instead, as in hours="12 min", or --strike when the event never was'),
    ],
)  # fmt: skip
def test_what_cannot_be_corrected(root: Path, words: list[str], code: int, said: str) -> None:
    words = [log_of(root, "7A")[0] if word == "FIRST" else word for word in words]
    result = say(root, "correct", "7A", *words, "--why", "x", "--yes")
    assert result.exit_code == code
    assert said in (result.stdout + result.stderr)
    assert len(log_of(root, "7A")) == 3


def test_why_is_always_said(root: Path) -> None:
    result = say(root, "correct", "7A", log_of(root, "7A")[0], "hours=1 h", "--yes")
    assert (result.exit_code, result.stderr.splitlines()[-1]) == (
        2, 'Error: say what was wrong, as in --why "hours typed for minutes"',
    )  # fmt: skip


def test_why_is_asked_where_nobody_said_it(root: Path) -> None:
    first = log_of(root, "7A")[0]
    result = say(root, "correct", "7A", first, "hours=1,5 h", typed="\nminutes typed for hours\ny\n")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "What was wrong, as in: hours typed for minutes: minutes typed for hours\n" in result.stdout
    (correction,) = read_club(root).engines["7A"].log.of(Correction)
    assert (correction.why, (correction.instead or {})["hours"]) == ("minutes typed for hours", "1.5 h")


def test_readings_of_several_places_are_corrected_together(root: Path) -> None:
    service = {"event": "service", "date": "2030-05-07", "procedure": "rotor-service", "revision": "3",
               "readings": {"rotor-gap": "0.03 mm"}}  # fmt: skip
    name = file_event(root, "7A", service).path.name
    result = say(root, "correct", "7A", name, "readings.rotor-gap=0.30 mm / 0.31 mm", "--why", "x", "--yes")
    assert result.stdout.splitlines()[1] == "  readings.rotor-gap: 0.03 mm -> 0.30 mm / 0.31 mm"
    state = state_of(read_club(root).engines["7A"], TODAY)
    assert [str(value) for value in state.readings["rotor-gap"][0].values] == ["0.30 mm", "0.31 mm"]
    result = say(root, "correct", "7A", name, "readings.rotor-gp=0.30 mm", "--why", "x", "--yes")
    assert "refused unknown-limit" in result.stdout
