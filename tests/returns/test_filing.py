"""One event into one log: once, behind what is there, or not at all."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from docgen.club import lock
from docgen.club.history import walk
from docgen.club.lock import alone
from docgen.club.log import Log
from docgen.club.read import read_club
from docgen.club.readlog import read_log
from docgen.club.schema.event import Run
from docgen.club.store import StoreError, append
from docgen.returns.filing import (
    file_event,
    file_service,
    fit_or_refuse,
    names_unknown,
    running_in,
    sheet_in,
    sheet_key,
)
from tests.shares import share
from tests.smallclub import write

RUN = {"event": "run", "date": "2030-03-01", "hours": "36 min"}
SHEET = {"event": "service", "date": "2030-03-02", "procedure": "rotor-service", "revision": "3",
         "sheet": "7A-ROT-03-001-S1-I", "issue": "ab" * 32}  # fmt: skip


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return write(tmp_path / "club")


def log_of(root: Path) -> Log:
    log, problems = read_log(root, "7A")
    assert problems == []
    return log


def test_each_event_stands_behind_the_one_before(root: Path) -> None:
    first = file_event(root, "7A", RUN)
    second = file_event(root, "7A", {**RUN, "date": "2030-03-02"})
    log = log_of(root)
    assert [e.event.parents for e in log.entries] == [(), (first.digest,)]
    assert (first.new, second.new, log.heads) == (True, True, (second.digest,))
    assert second.path == root / "engines/7A/log" / log.entries[1].file


def test_a_sheet_is_filed_once(root: Path) -> None:
    first = file_service(root, "7A", SHEET)
    again = file_service(root, "7A", {**SHEET, "by": "Somebody else", "date": "2030-03-05"})
    assert (again.new, again.path, again.digest) == (False, first.path, first.digest)
    assert len(log_of(root).entries) == 1


@pytest.mark.parametrize(
    ("issue", "sheet", "same"),
    [
        ("ab" * 32, None, True),
        ("ab" * 6, None, True),
        ("cd" * 32, "7A-ROT-03-001-S1-I", False),
        (None, "7A-ROT-03-001-S1-I", True),
        (None, "7a-rot-03-001-s2-g", True),
        (None, "7A-ROT-03-002-S1-A", False),
        (None, None, False),
    ],
)  # fmt: skip
def test_the_same_sheet_is_told_by_its_issue_else_by_its_number(
    root: Path, issue: str | None, sheet: str | None, same: bool
) -> None:
    file_service(root, "7A", SHEET)
    assert (sheet_in(log_of(root), issue, sheet, SHEET["procedure"]) is not None) is same
    assert sheet_in(log_of(root), issue, sheet, "another-job-of-the-visit") is None


def test_pages_of_one_print_are_one_sheet() -> None:
    assert sheet_key("7A-ROT-03-001-S1-I") == sheet_key("7a-rot-03-001-s2-g") == "7A-ROT-03-001"
    assert sheet_key("no number") == "no number"


def test_a_sheet_that_was_struck_out_may_be_filed_again(root: Path) -> None:
    first = file_service(root, "7A", SHEET)
    strike = {"event": "correction", "date": "2030-03-03", "corrects": first.digest, "why": "Another engine's"}
    file_event(root, "7A", strike)
    assert file_service(root, "7A", SHEET).new


@pytest.mark.parametrize(
    ("hours", "meeting", "there"),
    [("36 min", None, True), ("0.6 h", None, True), ("36 min", "First", True), ("37 min", None, False)],
)
def test_the_same_running_is_found(root: Path, hours: str, meeting: str | None, there: bool) -> None:
    file_event(root, "7A", RUN)
    run = Run.model_validate({**RUN, "hours": hours, "meeting": meeting})
    assert (running_in(log_of(root), run) is not None) is there


def test_running_at_another_meeting_of_the_day_is_not_the_same(root: Path) -> None:
    file_event(root, "7A", {**RUN, "meeting": "Morning"})
    assert running_in(log_of(root), Run.model_validate({**RUN, "meeting": "Evening"})) is None
    assert running_in(log_of(root), Run.model_validate({**RUN, "date": "2030-03-02"})) is None


def test_branches_are_followed_together_and_said(root: Path) -> None:
    folder = root / "engines/7A/log"
    append(folder, RUN, ())
    append(folder, {**RUN, "hours": "12 min"}, ())
    heads = log_of(root).heads
    assert len(heads) == 2
    filed = file_event(root, "7A", {**RUN, "date": "2030-03-02"})
    assert filed.branches == heads
    assert log_of(root).heads == (filed.digest,)


def test_a_log_that_is_not_whole_takes_nothing(root: Path) -> None:
    path = file_event(root, "7A", RUN).path
    path.write_bytes(path.read_bytes() + b"\n")
    with pytest.raises(StoreError) as caught:
        file_event(root, "7A", {**RUN, "date": "2030-03-02"})
    assert str(caught.value) == (
        "log-not-whole: the log of engine 7A is not whole: nothing was filed\n"
        f"engines/7A/log/{path.name}:1:1 event-changed: this event was edited after it was written: "
        "its digest no longer fits\n"
        "   1 | event: run\n     | ^\n"
        "       to mend: restore the file; to correct an event, file a correction\n"
        "  to mend: docgen verify 7A says what is wrong with it"
    )
    assert len(list(path.parent.iterdir())) == 1


def test_what_no_reader_would_take_is_not_written(root: Path) -> None:
    with pytest.raises(StoreError) as caught:
        file_event(root, "7A", {**RUN, "hours": "36"})
    assert str(caught.value) == (
        'no-unit: hours: "36" has no unit\n  to mend: write it after the figure, as in 36 h or 36 min'
    )
    assert not (root / "engines/7A/log").exists()


def test_names_that_the_model_does_not_know_are_told(root: Path) -> None:
    folder = read_club(root)
    wrong = {**SHEET, "readings": {"rotor-gp": "0.30 mm"}, "renewed": {"plate-gasket": "W-12"}}
    assert [(p.name, p.message) for p in names_unknown(folder, "7A", wrong)] == [
        ("unknown-limit", 'there is no limit called "rotor-gp"')
    ]
    assert names_unknown(folder, "7A", SHEET) == []


@pytest.mark.parametrize("way", ["_one", "_by_file"])
def test_somebody_who_files_for_ever_is_not_waited_for(way: str, root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By the folder, or where the system locks none by a file that stands for it, as on Windows."""
    monkeypatch.setattr(lock, "_one", getattr(lock, way))
    folder = root / "engines/7A"
    with alone(folder), pytest.raises(StoreError) as caught, alone(folder, wait=0.05):
        pass
    assert str(caught.value) == (
        f"busy: somebody else is filing into {folder}, and has not ended\n  to mend: wait a moment, then try again"
    )
    with alone(folder, wait=0.05):
        pass


# --- many at once -----------------------------------------------------------------------------------------------------

FILE_MANY = """
import sys
from pathlib import Path
from docgen.returns.filing import file_event, file_service
from docgen.club import lock
root, who, same = Path(sys.argv[1]), sys.argv[2], sys.argv[3]
lock._one = getattr(lock, sys.argv[4])
sys.stdin.read()
for number in range(5):
    file_event(root, "7A", {"event": "run", "date": "2030-03-01", "hours": f"{number + 1} min", "note": who})
print(file_service(root, "7A", {"event": "service", "date": "2030-03-02", "by": who, "procedure": "rotor-service",
                                "revision": "3", "issue": same}).new)
"""


@pytest.mark.parametrize(("many", "way"), [(2, "_by_file"), (share(6, 20), "_one")])
def test_many_processes_at_the_same_moment_lose_and_double_nothing(root: Path, many: int, way: str) -> None:
    """Each files five runs of its own, and all file the same sheet; they start when their input closes, together."""
    gate_out, gate_in = os.pipe()
    children = [
        subprocess.Popen([sys.executable, "-c", FILE_MANY, root, str(n), "ab" * 32, way], stdin=gate_out,
                         stdout=subprocess.PIPE, text=True)
        for n in range(many)
    ]  # fmt: skip
    os.close(gate_out)
    os.close(gate_in)
    said = [child.communicate(timeout=120)[0].strip() for child in children]
    assert [child.returncode for child in children] == [0] * many
    assert sorted(said) == ["False"] * (many - 1) + ["True"]
    log = log_of(root)
    runs = [(run.note, str(run.hours)) for run in log.of(Run)]
    assert sorted(runs) == sorted((str(n), f"{m + 1} min") for n in range(many) for m in range(5))
    folder = root / "engines/7A/log"
    assert walk("log", {p.name: p.read_bytes() for p in folder.iterdir()}).problems == []
    assert len(log.heads) == 1


def test_without_locks_two_make_two_branches_and_nothing_is_lost(root: Path) -> None:
    """What a network drive without locks comes to: both saw the same head."""
    seen = log_of(root).heads
    for who in ("one", "other"):
        append(root / "engines/7A/log", {**RUN, "note": who}, seen)
    log = log_of(root)
    assert sorted(str(run.note) for run in log.of(Run)) == ["one", "other"]
    assert len(log.heads) == 2


def test_an_event_is_what_the_reader_will_see(root: Path) -> None:
    entry = fit_or_refuse("7A", RUN)
    assert isinstance(entry.event, Run)
    assert str(entry.event.hours) == "36 min"
    assert entry.document.path.startswith("engines/7A/log/2030-03-01-run-")
