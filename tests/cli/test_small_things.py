"""Closed standard files, a missing system library, an order table in a spreadsheet, a parcel that goes back."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from docgen.desk.kit import _inert
from tests.cli.record_club import log_of, numbered, say
from tests.share.receiving import JOB, WAIT, edit, packed, receive
from tests.smallclub import write

ROOT = Path(__file__).resolve().parents[2]
CALL = "import sys; from docgen.cli import main; sys.argv[1:] = {words!r}; main()"


def before_today(root: Path) -> Path:
    """The club, its engines received on a day that has come, whatever the clock says."""
    numbered(root)
    for path in root.glob("engines/*/engine.yaml"):
        path.write_text(path.read_text("utf-8").replace("received: 2029-", "received: 2020-"), "utf-8")
    return root


def closed(root: Path, *words: str, which: str) -> subprocess.CompletedProcess[str]:
    """A command with some of its standard files closed, as a shell closes them."""
    call = CALL.format(words=["--club", str(root), *words])
    command = f'exec "$0" -c "$1" {which}'
    return subprocess.run(["sh", "-c", command, sys.executable, call], capture_output=True, text=True, timeout=120,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}, cwd=root)  # fmt: skip


@pytest.mark.parametrize("which", ["<&-", ">&-", "2>&-", "<&- >&-", "<&- >&- 2>&-"])
def test_closed_standard_files_end_up_in_no_event(tmp_path: Path, which: str) -> None:
    root = before_today(tmp_path / "club")
    done = closed(root, "ran", "7A", "36", "--on", "2026-01-02", "--yes", which=which)
    assert "Traceback" not in done.stderr
    assert done.returncode == 0, done.stderr
    (name,) = log_of(root, "7A")
    assert (root / "engines/7A/log" / name).read_text("utf-8") == "event: run\ndate: 2026-01-02\nhours: 36 min\n"
    assert say(root, "verify").exit_code == 0


@pytest.mark.parametrize("words", [("ran", "7A", "36", "--on", "2026-01-02"), ("new", "engine", "9")])
def test_a_question_without_standard_input_is_a_no(tmp_path: Path, words: tuple[str, ...]) -> None:
    root = before_today(tmp_path / "club")
    done = closed(root, *words, which="<&-")
    assert (done.returncode, "Traceback" in done.stderr) == (1, False)
    assert done.stdout.endswith("Nothing was written.\n")
    assert (log_of(root, "7A"), (root / "engines/9").exists()) == ([], False)


def test_a_library_that_is_not_there_is_named_with_what_installs_it(tmp_path: Path) -> None:
    root = numbered(tmp_path / "club")
    hide = (
        "import cffi\nbefore = cffi.FFI.dlopen\n"
        "def dlopen(self, name, *more):\n"
        "    if 'pango' in str(name): raise OSError(f\"cannot load library '{name}': not found\")\n"
        "    return before(self, name, *more)\ncffi.FFI.dlopen = dlopen\n"
    )
    call = hide + CALL.format(words=["--club", str(root), "print", "7A", "--on", "2030-04-01"])
    done = subprocess.run([sys.executable, "-c", call], capture_output=True, text=True, cwd=ROOT, timeout=120)
    assert (done.returncode, "Traceback" in done.stderr) == (1, False), done.stderr
    first, hint = [line for line in done.stderr.splitlines() if "pango" in line.lower()][-2:]
    assert first.startswith("library-missing: the system library ")
    by_hand = "by hand: Debian and Ubuntu apt-get install libpango-1.0-0"
    assert hint.startswith(f"  to mend: ./run setup installs it; {by_hand}")


@pytest.mark.parametrize("mark", ["=", "+", "-", "@", "\uff1d", "\uff0b", "\uff0d", "\uff20", "\u2212"])
@pytest.mark.parametrize("before", ["", " ", "W-12;", "W-12; ", "W-12,", "W-12\t", "W-12|", 'W-12;"'])
def test_no_cell_of_an_order_is_a_formula_whatever_ends_a_cell(mark: str, before: str) -> None:
    text = _inert(f"{before}{mark}HYPERLINK(1)")
    assert text == f"{before}'{mark}HYPERLINK(1)"


@pytest.mark.parametrize("text", ["W-12", "A-B-C", "O-ring 3 x 1.5", "Gasket, paper", "1/2 - 3/4", "a;b"])
def test_other_part_numbers_stay_as_they_are(text: str) -> None:
    assert _inert(text) == text


@pytest.mark.parametrize(
    ("revision", "head"),
    [
        ("revision: 4", "NEWER: you have it as it was before, and get theirs"),
        ("revision: 2", "AN EARLIER REVISION THAN YOURS, though it came after: you get theirs in the place of yours"),
    ],
)
def test_a_parcel_that_goes_back_is_not_called_newer(tmp_path: Path, revision: str, head: str) -> None:
    other, own = write(tmp_path / "other"), write(tmp_path / "own")
    receive(own, packed(other), "--yes")
    edit(other, JOB, ("revision: 3", revision), WAIT)
    _, said = receive(own, packed(other), "--yes")
    assert head in said
