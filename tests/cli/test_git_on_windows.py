"""What git and sync programs do to a club's folder: other line ends, copies beside files. The meaning stays."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.returns.filing import file_event
from tests.cli.record_club import numbered, say
from tests.returns.conftest import GOOD
from tests.returns.filling import filled
from tests.returns.test_merged import NOBODY

DAY = ("--on", "2030-04-01")


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A club with a record, prints and a release, all of whose text files then got the line ends of Windows."""
    root = numbered(tmp_path_factory.mktemp("club"))
    file_event(root, "7A", {"event": "run", "date": "2030-03-01", "hours": "36 min"})
    for words in (("print", "--job", "ROT", *DAY), ("release",), ("schema", "--write")):
        assert say(root, *words).exit_code == 0, words
    changed = 0
    for path in root.rglob("*"):
        if path.is_file() and not path.name.endswith(".pdf"):
            data = path.read_bytes()
            path.write_bytes(data.replace(b"\n", b"\r\n"))
            changed += data.count(b"\n") > 0
    assert changed > 15
    return root


def test_every_sheet_is_current_and_keeps_its_number(root: Path) -> None:
    issued = sorted(path.name for path in root.glob("engines/*/issued/*"))
    assert len(issued) == 2
    current = say(root, "current", *DAY)
    assert (current.exit_code, current.stdout.splitlines()[0]) == (
        0, "2 of 2 sheets are current on 2030-04-01: the latest print of each job on each engine was looked at.",
    )  # fmt: skip
    again = say(root, "print", "--job", "ROT", *DAY)
    assert (again.exit_code, again.stderr) == (0, "")
    assert sorted(path.name for path in root.glob("engines/*/issued/*")) == issued
    index = say(root, "index", *DAY)
    assert (index.exit_code, index.stdout, index.stderr) == (0, f"4 sheets: {root}/out/index.html\n", "")


def test_the_record_and_the_release_are_as_they_were(root: Path) -> None:
    for command in (("verify",), ("proof",)):
        result = say(root, *command)
        assert result.exit_code == 0, result.output
    assert say(root, "release").stdout == "Nothing new to release.\n"


def test_a_sheet_that_was_printed_before_is_filed(root: Path) -> None:
    path = root / "out/7A/7A-ROT-sign-off.pdf"
    path.write_bytes(filled(path.read_bytes(), {**GOOD, "engine-hours": "4.6"}))
    result = say(root, "file", str(path), "--yes", "--on", "2030-04-10")
    assert result.exit_code == 0, result.output
    assert say(root, "verify").exit_code == 0


def test_a_new_club_tells_git_to_leave_line_ends_alone(tmp_path: Path) -> None:
    club = tmp_path / "club"
    assert say(tmp_path, "new", "club", str(club), "--name", "New", "--take", "nothing", "--yes").exit_code == 0
    subprocess.run(["git", "init", "-q"], cwd=club, check=True, env=NOBODY)
    files = ("engines/7A/log/x.yaml", "procedures/x.md", "engines/7A/signed/x.pdf")
    asked = ["git", "check-attr", "eol", "text", "--", *files]
    said = subprocess.run(asked, cwd=club, check=True, env=NOBODY, capture_output=True, text=True).stdout
    assert said.splitlines() == [
        "engines/7A/log/x.yaml: eol: lf", "engines/7A/log/x.yaml: text: auto", "procedures/x.md: eol: lf",
        "procedures/x.md: text: auto", "engines/7A/signed/x.pdf: eol: lf", "engines/7A/signed/x.pdf: text: unset",
    ]  # fmt: skip


COPIES = {
    "procedures/rotor-service (1).yaml": "rotor-service",
    "procedures/rotor-service (conflicted copy 2030-04-01).yaml": "rotor-service",
    "procedures/rotor-service.sync-conflict-20300401-1200-ABC.yaml": "rotor-service",
    "procedures/rotor-service - Copy.yaml": "rotor-service",
    "models/willow-80 2.yaml": "willow-80",
}


@pytest.mark.parametrize("path", COPIES)
def test_a_copy_that_a_sync_program_made_stops_nothing(tmp_path: Path, path: str) -> None:
    root = numbered(tmp_path / "club")
    whole = Path(path).parent / f"{COPIES[path]}.yaml"
    (root / path).write_bytes((root / whole).read_bytes() + b"nonsense: [\n")
    assert [str(p) for p in read_club(root).problems] == [
        f'{path} copy-not-read (note): this looks like a copy of "{COPIES[path]}" that a sync program made; it is not '
        "read\n       to mend: look whether both of you changed something, then take it away"
    ]
    for words in (("due", *DAY), ("current", *DAY), ("ran", "7A", "12", "--on", "2026-01-01", "--yes")):
        assert "nonsense" not in say(root, *words).output
    assert say(root, "due", *DAY).exit_code == 0
    assert "copy-not-read (note)" in say(root, "proof").output


def test_a_file_of_another_name_that_is_no_copy_is_a_fault_as_before(tmp_path: Path) -> None:
    root = numbered(tmp_path / "club")
    (root / "procedures/rotor-service.yaml").rename(root / "procedures/rotor-service (1).yaml")
    assert [p.name for p in read_club(root).problems if p.level == "error"] == ["name-differs"]


def test_a_copied_folder_of_an_engine_stops_nothing(tmp_path: Path) -> None:
    root = numbered(tmp_path / "club")
    (root / "engines/7A (1)").mkdir()
    (root / "engines/7A (1)/engine.yaml").write_text("engine: 7A\n", "utf-8")
    problems = [(p.path, p.name, p.level) for p in read_club(root).problems]
    assert problems == [("engines/7A (1)", "copy-not-read", "note")]
    assert say(root, "due", *DAY).exit_code == 0


@pytest.mark.parametrize("name", ["Kupplung gepr\u00fcft.pdf", "Kupplung gepru\u0308ft.pdf"])
def test_a_sheet_is_filed_under_whatever_form_of_its_name(root: Path, tmp_path: Path, name: str) -> None:
    """Composed and decomposed letters: some systems turn one into the other."""
    paper = tmp_path / name
    paper.write_bytes((root / "out/8B/8B-ROT-sign-off.pdf").read_bytes())
    result = say(root, "file", str(paper), "--yes", "--on", "2030-04-10")
    assert "nothing-filled-in" in result.output
