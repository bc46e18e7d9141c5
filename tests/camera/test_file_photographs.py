"""`docgen file` with photographs, in the terminal; what is kept, whatever happens in between."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.club.store import StoreError
from docgen.desk import filing
from docgen.desk.filing import Paper, understood, write
from docgen.returns.parts import OfPart
from docgen.returns.prompts import prompts
from docgen.returns.verify import verify
from tests.camera.taken import Printed, saved, tilted
from tests.returns.conftest import GOOD, NUMBER, TODAY, club_at

TICKED = tuple(name for name, text in GOOD.items() if text == "on")


def run(root: Path, *words: str, answers: str = "") -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), "file", *words, "--on", str(TODAY)], input=answers)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A club of its own, with its sheet issued."""
    return club_at(tmp_path / "club").root


@pytest.fixture
def photographs(tmp_path: Path, paper: Printed) -> Path:
    """Both pages, in a folder with something else."""
    folder = tmp_path / "photographs"
    folder.mkdir()
    (folder / "b.jpg").write_bytes(saved(tilted(paper.face(1, TICKED))))
    (folder / "a.png").write_bytes(saved(paper.face(2), "PNG"))
    (folder / "notes.txt").write_text("none of this", encoding="utf-8")
    return folder


def typed(root: Path) -> str:
    """What somebody types who has the paper: ticks are there already and are left as they are."""
    asked = prompts(club_at(root.parent / "other").sheet.job)
    lines = []
    for prompt in asked:
        text = GOOD.get(prompt.field, "")
        lines.append("" if prompt.kind == "tick" else f"{text}\n" if prompt.kind == "lines" else text)
    return "\n".join(lines)


def test_without_the_part_for_pictures_a_plain_line_says_how_to_get_it(
    root: Path, photographs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = importlib.util.find_spec
    monkeypatch.setattr("docgen.camera.shot.find_spec", lambda name: None if name == "cv2" else found(name))
    done = run(root, str(photographs))
    assert done.exit_code == 1
    assert done.output == (
        "Error: photographs and scans are read by a part that is not installed:  pip install 'docgen[camera]'\n"
    )


def test_nothing_is_filed_without_a_look(root: Path, photographs: Path) -> None:
    done = run(root, str(photographs), "--yes")
    assert done.exit_code == 1
    assert f"{NUMBER}  " in done.output
    assert f"{len(TICKED)} boxes ticked, 0 to look at" in done.output
    assert "not-looked-at" in done.output
    assert not (root / "engines/7A/signed").exists()
    assert sorted(path.name for path in photographs.iterdir()) == ["a.png", "b.jpg", "notes.txt"]


def test_in_the_terminal_the_ticks_stand_there_already(root: Path, photographs: Path) -> None:
    before = {path.name: path.read_bytes() for path in photographs.iterdir()}
    done = run(root, str(photographs), "--terminal", answers=typed(root) + "\ny\n" * 6)
    assert done.exit_code == 0, done.output
    assert {path.name: path.read_bytes() for path in photographs.iterdir()} == before
    kept = sorted((root / "engines/7A/signed").iterdir())
    assert sorted(path.read_bytes() for path in kept) == sorted(before[name] for name in ("a.png", "b.jpg"))
    (event,) = (root / "engines/7A/log").glob("*service*")
    text = event.read_text("utf-8")
    assert [f"signed/{path.name}" in text for path in kept] == [True, True]
    found = verify(root, "7A")
    assert (found.problems, found.notes) == ((), ())
    again = run(root, str(photographs), "--terminal")
    assert again.exit_code == 0
    assert f"{NUMBER} is already filed, as {event.name}. Nothing was written." in again.output


def test_a_kill_between_picture_and_event_loses_nothing_and_leaves_no_orphan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a kill leaves is a picture that no event names: verify says so, and filing again takes the same one up."""
    club = club_at(tmp_path / "club")
    one = understood(club.folder, OfPart(club.sheet, GOOD, whole=True), TODAY)
    papers = (Paper(b"a picture", "jpg", 1), Paper(b"another", "jpg", 2))
    with monkeypatch.context() as cut:

        def killed(*_: object) -> None:
            raise KeyboardInterrupt

        cut.setattr(filing, "file_service", killed)
        with pytest.raises(KeyboardInterrupt):
            write(club.root, one, papers, TODAY)
    left = sorted(path.name for path in (club.root / "engines/7A/signed").iterdir())
    assert len(left) == 2
    assert [note.partition(" ")[0] for note in verify(club.root, "7A").notes] == [f"signed/{name}" for name in left]
    filed = write(club.root, one, papers, TODAY)
    assert filed.new
    assert sorted(path.name for path in (club.root / "engines/7A/signed").iterdir()) == left
    found = verify(club.root, "7A")
    assert (found.problems, found.notes) == ((), ())


def test_no_event_is_written_whose_picture_could_not_be_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    club = club_at(tmp_path / "club")
    one = understood(club.folder, OfPart(club.sheet, GOOD, whole=True), TODAY)

    def full(*_: object) -> None:
        raise StoreError("disk-full", "the disk is full")

    monkeypatch.setattr("docgen.desk.filing.write_once", full)
    with pytest.raises(StoreError, match="the disk is full"):
        write(club.root, one, (Paper(b"a picture", "jpg", 1),), TODAY)
    assert list((club.root / "engines/7A/log").glob("*service*")) == []
