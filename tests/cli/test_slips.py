"""What a new member gets wrong at the command line, and what is answered: where, what, and what to do."""

from __future__ import annotations

import errno
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import Result

from docgen.cli import _printing
from docgen.cli.frame import Session
from docgen.club.read import read_club
from docgen.club.store import write_error
from docgen.desk import pages
from docgen.returns.checks import said_of_hours
from docgen.trade.quantity import parse_quantity
from tests.cli.record_club import TODAY, log_of, numbered, on_the_day, say
from tests.smallclub import texts, write

DAY = ("--on", "2030-06-10")


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    return numbered(tmp_path)


def last(result: Result) -> tuple[int, str]:
    return result.exit_code, result.stderr.splitlines()[-1]


PRINTING = (
    ("print", "7A", "--job", "ROT"),
    ("print", "--blank", "willow-80", "--job", "ROT"),
    ("binder", "7A", "--job", "ROT", "--no-mats"),
    ("card", "7A"),
    ("kit", "7A", "--job", "ROT"),
    ("mat", "7A", "--job", "ROT", "--box", "3x3"),
    ("board",),
    ("labels", "fuel"),
)


@pytest.mark.parametrize("words", PRINTING, ids=" ".join)
def test_a_file_where_the_sheets_should_go(root: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]) -> None:
    monkeypatch.chdir(root)
    (root / "out").write_text("not a folder", "utf-8")
    result = say(root, *words, *DAY)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        "not-a-folder: a file lies where a folder is needed: out\n"
        "  to mend: move that file away, or name another place\n"
    )
    assert not (root / "engines/7A/issued").exists()  # no number is used up for a sheet that nobody gets
    assert (root / "out").read_text("utf-8") == "not a folder"


@pytest.mark.parametrize(
    ("number", "answer"),
    [
        (errno.EACCES, "no-access: out/7A is not yours to read or to write into\n"
         "  to mend: check whose it is and that the disk is not write-protected\n"),
        (errno.EROFS, "no-access: out/7A is not yours to read or to write into\n"
         "  to mend: check whose it is and that the disk is not write-protected\n"),
        (errno.ENOSPC, "disk-full: the disk is full\n  to mend: make room, then give the same command again\n"),
        (errno.EISDIR, "not-a-file: a folder lies where a file is needed: out/7A\n"
         "  to mend: move that folder away, or name another place\n"),
        (errno.EIO, "system-error: out/7A: Input/output error\n"
         "  to mend: put that right, then give the same command again\n"),
    ],
)  # fmt: skip
def test_what_the_system_refuses_is_said_in_words(
    root: Path, monkeypatch: pytest.MonkeyPatch, number: int, answer: str
) -> None:
    monkeypatch.chdir(root)

    def refused(path: Path, data: bytes) -> None:
        raise OSError(number, "Input/output error", str(path.parent / ".tmp-0123"))

    monkeypatch.setattr(pages, "lay", refused)
    result = say(root, "card", "7A", *DAY)
    assert (result.exit_code, result.stdout, result.stderr) == (1, "", answer)


def test_a_folder_of_the_club_that_may_not_be_read(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(root)

    def closed(self: Session, *_: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(root / "engines/7A/log"))

    monkeypatch.setattr(Session, "read", closed)
    assert say(root, "due").stderr == (
        "no-access: engines/7A/log is not yours to read or to write into\n"
        "  to mend: check whose it is and that the disk is not write-protected\n"
    )


def test_an_event_that_may_not_be_written_names_the_folder_and_no_file_that_nobody_knows() -> None:
    denied = PermissionError(errno.EACCES, "Permission denied", "engines/7A/log/.tmp-0123")
    error = write_error(denied, "the run of engine 7A")
    assert str(error) == (
        "read-only: engines/7A/log cannot be written to: the run of engine 7A was not written\n"
        "  to mend: check whose folder it is and that the disk is not write-protected"
    )


def test_the_folder_that_one_stands_in_was_taken_away(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(self: Session, *_: object) -> None:
        raise FileNotFoundError(errno.ENOENT, "No such file or directory")

    monkeypatch.setattr(Session, "read", gone)
    assert say(root, "due").stderr == (
        "not-there: the folder that you are in is not there\n"
        "  to mend: look at the name, and whether somebody has just moved it\n"
    )


@pytest.mark.parametrize("stopped", [KeyboardInterrupt, EOFError])
def test_a_break_is_no_accident(root: Path, monkeypatch: pytest.MonkeyPatch, stopped: type[BaseException]) -> None:
    def broken_off(self: Session, *_: object) -> None:
        raise stopped

    monkeypatch.setattr(Session, "read", broken_off)
    result = say(root, "due")
    status = 130 if stopped is KeyboardInterrupt else 1
    assert (result.exit_code, result.stderr) == (status, "\nStopped: nothing was done beyond what is said above.\n")


def test_nobody_there_to_answer_is_a_no(root: Path) -> None:
    result = say(root, "rebuilt", "7A", "--by", "A", "--approved-by", "B", *DAY)
    assert result.exit_code == 1
    assert result.stdout == "Was it completely disassembled? [y/N]: \nNothing was written.\n"
    assert log_of(root, "7A") == []


def test_a_day_that_cannot_be_reckoned_with(root: Path) -> None:
    for day in ("9999-12-31", "1899-12-31"):
        assert last(say(root, "due", "--on", day)) == (
            2, f"Error: Invalid value for '--on': \"{day}\" is too far away: write a year from 1900 to 2199",
        )  # fmt: skip
    assert say(root, "due", "--on", " 2030-06-10 ").exit_code == 0


def test_an_engine_without_its_noughts(tmp_path: Path) -> None:
    changes: dict[str, str | None] = {
        path.replace("engines/7A", "engines/007"): text.replace("engine: 7A", "engine: 007")
        for path, text in texts().items() if path.startswith("engines/7A")
    }  # fmt: skip
    write(tmp_path, changes)
    assert last(say(tmp_path, "due", "7")) == (2, 'Error: there is no engine "7"; did you mean "007"?')
    assert say(tmp_path, "ran", "7", "3", "x", "12").stdout == (
        '  refused no-engine: "7" stands before any engine\n    did you mean engine 007?\nNothing was written.\n'
    )


def test_a_job_whose_file_is_faulty_is_not_said_to_be_missing(root: Path) -> None:
    (root / "procedures/rotor-service.yaml").write_text("", "utf-8")
    result = say(root, "print", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr.startswith("procedures/rotor-service.yaml empty-file: there is nothing in this file\n")


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        (("note", "interval", "7A", "rotor-service", "--hours", "0 h"),
         'no-interval: 0 h is no interval: the job would always be due\n    say it as in --hours "8 h" or --months 6'),
        (("note", "interval", "7A", "rotor-service", "--months", "0"),
         'no-interval: 0 is no interval: the job would always be due\n    say it as in --hours "8 h" or --months 6'),
        (("note", "interval", "7A", "rotor-service", "--hours", "8"),
         'no-unit: hours: "8" has no unit\n    write it after the figure, as in 8 h or 8 min'),
        (("note", "deviation", "7A", "rotor-nut", "Re-tapped", "--now", "torque=30"),
         'no-unit: torque: "30" has no unit\n    write it after the figure, as in 30 N.m'),
        (("note", "finding", "7A", "Weeps", "--part", "carrier-gaskets"),
         'unknown-part: there is no part "carrier-gaskets" for this engine\n    known: plate-gasket'),
        (("move", "R-1", "8B", "--hours", "0 h"),
         "hours-known: the record knows the hours of rotor R-1: they follow from what it ran\n"
         "    leave --hours out; docgen components shows them"),
        (("move", "R-9", "7A", "--part", "rotro"),
         'not-on-this-model: Willow 80 has no part called rotro\n    did you mean "rotor"?'),
    ],
    ids=lambda value: " ".join(value[:5]) if isinstance(value, tuple) else "",
)  # fmt: skip
def test_refused_on_lines_that_say_what_to_do(root: Path, words: tuple[str, ...], answer: str) -> None:
    result = say(root, *words, "--yes", *DAY)
    assert (result.exit_code, result.stdout) == (1, f"  refused {answer}\nNothing was written.\n")
    assert log_of(root, "7A") == log_of(root, "8B") == []


def test_half_an_hours_interval_is_one(root: Path) -> None:
    for hours in ("0.5 h", "10 h"):
        assert say(root, "note", "interval", "7A", "rotor-service", "--hours", hours, "--yes",
                   "--on", "2026-01-01").stdout.count("no-interval") == 0  # fmt: skip


def test_the_shelf_with_a_capital(root: Path) -> None:
    assert "comes off engine 7A and goes to the shelf" in say(root, "move", "R-1", "Shelf", *DAY).stdout


def test_a_component_that_nobody_knows_leads_to_the_list(root: Path) -> None:
    assert last(say(root, "components", "XX-1")) == (
        2, 'Error: there is no component "XX-1"; docgen components lists them',
    )  # fmt: skip


def test_hours_that_nobody_entered_are_entered_by_what_is_said(root: Path) -> None:
    record = read_club(root).engines["7A"]
    (note,) = said_of_hours(record, parse_quantity("9 h"), TODAY)
    assert (note.name, note.hint) == ("running-not-entered", "docgen ran 7A MINUTES --on DAY enters them")


def test_a_club_without_engines_is_told_how_to_begin_one(tmp_path: Path) -> None:
    write(tmp_path, {path: None for path in texts() if path.startswith("engines/")})
    assert say(tmp_path, "due", *DAY).stdout == "There are no engines yet: docgen new engine NUMBER begins one.\n"
    assert say(tmp_path, "verify").stdout.startswith("There are no engines yet.\n")


def test_the_ratio_as_it_is_said_of_a_can(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []
    monkeypatch.setattr(_printing, "print_pages", lambda _, wishes: seen.append(wishes[0].order.html))
    for ratio in ("25", "25:1", "1:25", " 25 : 1 "):
        assert say(root, "labels", "fuel", "--litres", "10", "--ratio", ratio, *DAY).exit_code == 0
    assert len(seen) == 4
    assert len(set(seen)) == 1


def test_no_card_of_a_record_whose_end_is_known_to_be_missing(root: Path) -> None:
    assert say(root, "ran", "7A", "36", "--yes", *DAY).exit_code == 0
    assert say(root, "print", "7A", "--job", "ROT", *DAY).exit_code == 0
    assert say(root, "card", "7A", *DAY).exit_code == 0
    (event,) = (root / "engines/7A/log").iterdir()
    event.unlink()
    result = say(root, "card", "7A", *DAY)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.startswith("engines/7A/log event-missing: the log does not hold the event ")


def test_a_name_that_the_console_cannot_show_stops_nothing(tmp_path: Path) -> None:
    path = "engines/7A/engine.yaml"
    keeper = re.sub(r"(?m)^keeper: .*$", "keeper: Jiří Kőszegi", texts()[path])
    write(tmp_path, {path: keeper})
    for words in (("engine", "7A"), ("engine", "7A", "--json")):
        result = subprocess.run(
            [sys.executable, "-c", "from docgen.cli import main; main()", "--club", str(tmp_path), *words],
            env=os.environ | {"PYTHONIOENCODING": "cp1252"}, capture_output=True, check=False,
        )  # fmt: skip
        assert (result.returncode, result.stderr) == (0, b"")
        assert b"Ji\\u0159\xed K\\u0151szegi" in result.stdout


def test_a_bench_too_far_away_for_its_paper(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(root)
    club = root / "club.yaml"
    club.write_text(club.read_text("utf-8").replace("bench_distance: 600 mm", "bench_distance: 1800 mm"), "utf-8")
    result = say(root, "print", "7A", "--job", "ROT", *DAY)
    assert result.exit_code == 1
    assert result.stderr.endswith(
        "\n  to mend: what does not fit its page is not printed. A shorter bench_distance in club.yaml (it is 1800 mm) "
        "makes its type smaller; or cut the step in two\n"
    )
    assert not (root / "out/7A/7A-ROT-leaf.pdf").exists()


def test_a_club_whose_only_engine_cannot_be_read_does_not_say_that_it_has_none(root: Path) -> None:
    path = root / "engines/7A/engine.yaml"
    path.write_text("\t" + path.read_text("utf-8"), "utf-8")
    for other in (one for one in (root / "engines").iterdir() if one.name != "7A"):
        shutil.rmtree(other)
    result = say(root, "due")
    assert (result.exit_code, result.stdout) == (
        1, "No engine's record can be read, so nothing is known of what is due.\n"
    )  # fmt: skip
    assert "engines/7A/engine.yaml:1:1 tab-indent" in result.stderr
