"""What is in the record is said to be there, whatever the disk says then; the same words again are asked about."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.club.schema.event import REBUILT, Service
from docgen.desk import walking
from docgen.returns.reading import understand
from docgen.returns.walk import Walk, draft_path, save_draft
from tests.cli.record_club import log_of, numbered, on_the_day, say
from tests.returns.conftest import GOOD, NUMBER, club_at
from tests.returns.conftest import TODAY as TYPED_ON
from tests.returns.test_enter import enter, services, typed_for

WARNED = (
    "  with a warning: the disk did not confirm that it is kept (Input/output error). "
    "It is written: do not file it again; look at the disk."
)
FINDING = ("note", "finding", "7A", "Weeps oil", "--on", "2030-06-10")
AGAIN = (
    "  doubt said-already: the record says this very thing of 2030-06-10 already, as {}\n"
    "    it is written a second time when it happened twice\n"
)


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    return numbered(tmp_path / "club")


@pytest.fixture
def unsure(monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that does not confirm what is in a folder that was there before."""
    fsync = os.fsync

    def fail(handle: int) -> None:
        if os.readlink(f"/proc/self/fd/{handle}").endswith(("/log", "/signed")):  # noqa: PTH115
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", fail)


@pytest.mark.usefixtures("unsure")
@pytest.mark.parametrize(
    "words",
    [
        (*FINDING, "--yes"),
        ("ran", "7A", "36", "--on", "2030-06-10", "--yes"),
        ("move", "R-1", "shelf", "--on", "2030-06-10", "--yes"),
    ],
)
def test_a_disk_that_does_not_confirm_is_a_warning(root: Path, words: tuple[str, ...]) -> None:
    result = say(root, *words)
    (name,) = log_of(root, "7A")
    assert (result.exit_code, result.stdout.splitlines()[-2:]) == (0, [f"Filed: engines/7A/log/{name}", WARNED])


@pytest.mark.usefixtures("unsure")
def test_both_halves_of_a_move_are_written(root: Path) -> None:
    result = say(root, "move", "R-1", "8B", "--on", "2030-06-10", "--yes")
    assert (result.exit_code, len(log_of(root, "7A")), len(log_of(root, "8B"))) == (0, 1, 1)
    assert result.stdout.splitlines()[-3::2] == [WARNED, WARNED]


def test_the_same_words_of_the_same_day_are_asked_about(root: Path) -> None:
    assert say(root, *FINDING, "--yes").exit_code == 0
    (name,) = log_of(root, "7A")
    result = say(root, *FINDING, "--yes")
    assert (result.exit_code, log_of(root, "7A")) == (1, [name])
    assert AGAIN.format(name) in result.stdout
    assert result.stdout.endswith("--accept said-already does, once somebody has looked.\nNothing was written.\n")
    assert say(root, *FINDING, typed="n\n").stdout.endswith("Nothing was written.\n")
    assert say(root, *FINDING[:-1], "2030-06-09", "--yes", "--accept", "date-before-last-event").exit_code == 0
    assert say(root, *FINDING, "--yes", "--accept", "said-already").exit_code == 0
    assert len(log_of(root, "7A")) == 3


def test_what_was_struck_out_may_be_said_again(root: Path) -> None:
    assert say(root, *FINDING, "--yes").exit_code == 0
    (name,) = log_of(root, "7A")
    strike = ("correct", "7A", name, "--strike", "--why", "wrong engine", "--on", "2030-06-10", "--yes")
    assert say(root, *strike).exit_code == 0
    assert say(root, *FINDING, "--yes").exit_code == 0


def test_a_rebuild_is_not_entered_twice_by_giving_the_command_again(root: Path) -> None:
    words = ("rebuilt", "7A", "--by", "A. Fenn", "--approved-by", "B. Hale", "--on", "2030-06-10")
    yes = "y\n" * len(REBUILT)
    first = say(root, *words, typed=yes)
    (name,) = log_of(root, "7A")
    assert (first.exit_code, first.stdout.splitlines()[-1]) == (0, f"Filed: engines/7A/log/{name}")
    again = say(root, *words, typed="n\n")
    assert (again.exit_code, log_of(root, "7A")) == (1, [name])
    assert again.stdout.startswith(AGAIN.format(name))
    assert say(root, *words, typed=f"y\n{yes}").exit_code == 0
    assert len(log_of(root, "7A")) == 2


@pytest.mark.parametrize("number", [errno.EROFS, errno.EIO, errno.ENOSPC])
def test_an_entry_goes_on_from_its_draft_and_is_filed_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """The disk fails after some boxes, again and again; at the end it does not let the draft go."""
    club = club_at(tmp_path / "club")
    draft, typed = draft_path(club.root, club.sheet.number), typed_for(club, GOOD)
    failed = OSError(number, os.strerror(number))
    kept = 0
    for boxes in (0, 1, 5):
        with monkeypatch.context() as patch:
            patch.setattr(walking, "save_draft", _fails_after(boxes, failed))
            result = enter(club, *typed[kept:])
        assert (result.exit_code, result.stderr) == (1, f"Error: it could not be kept: {failed.strerror}\n")
        kept += boxes
    assert log_of(club.root, "7A") == []
    unlink = Path.unlink

    def stays(path: Path, missing_ok: bool = False) -> None:
        if path == draft:
            raise failed
        unlink(path, missing_ok)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", stays)
        result = enter(club, *typed[kept:], "y")
    assert (result.exit_code, len(log_of(club.root, "7A"))) == (0, 1), result.output
    assert result.stderr == f"Its draft could not be put away ({failed.strerror}): delete {draft}\n"
    (service,) = services(club)
    expected = Service.model_validate(understand(club.sheet, GOOD, TYPED_ON, 3).event)
    assert service.model_copy(update={"parents": ()}) == expected
    again = enter(club, "y")
    assert (again.exit_code, again.stderr.splitlines()[0]) == (
        1, f"Error: already-filed: {NUMBER} is already filed, as {log_of(club.root, '7A')[0]}",
    )  # fmt: skip


def _fails_after(boxes: int, error: OSError) -> Callable[[Path, Walk], None]:
    left = boxes

    def save(path: Path, walk: Walk) -> None:
        nonlocal left
        left -= 1
        if left < 0:
            raise error
        save_draft(path, walk)

    return save


def test_a_finding_that_was_typed_before_stop_is_kept(tmp_path: Path) -> None:
    club = club_at(tmp_path / "club")
    typed = typed_for(club, {**GOOD, "findings": "Weeps oil"})
    assert enter(club, *typed[: typed.index("Weeps oil") + 1], "stop").exit_code == 0
    assert "findings: Weeps oil" in draft_path(club.root, club.sheet.number).read_text("utf-8")
