"""When nothing of a parcel is taken in, and what is cut off on the way."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.cli.frame import Session
from docgen.club.store import write_once
from docgen.share.container import to_bytes
from docgen.share.put import PENDING
from tests.share.receiving import DAY, JOB, WAIT, edit, newer, packed, receive, say, snapshot


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--keep", "rotor"], 'Error: there is no "rotor" in this parcel; in it: rotor-service, willow-80'),
        (["--keep", "willow-80", "--take", "willow-80"], 'Error: "willow-80" cannot be both --keep and --take'),
    ],
)
def test_names_that_are_not_understood(other: Path, home: Path, words: list[str], said: str) -> None:
    code, output = receive(home, packed(other), *words)
    assert (code, output.splitlines()[-1]) == (2, said)


def test_a_file_that_cannot_be_opened(home: Path, tmp_path: Path) -> None:
    assert receive(home, str(tmp_path / "none.parcel")) == (1, (
        f"unreadable-file: {tmp_path}/none.parcel cannot be opened: No such file or directory\n"
        "  to mend: give the parcel's file\nNothing was written.\n"
    ))  # fmt: skip
    code, said = receive(home, str(tmp_path))
    assert (code, said.splitlines()[0]) == (1, f"unreadable-file: {tmp_path} cannot be opened: Is a directory")


def test_ones_own_faulty_file_is_no_measure(other: Path, met: Path) -> None:
    edit(met, JOB, ("code: ROT", "code: rot"))
    before = snapshot(met)
    assert receive(met, newer(other, WAIT), "--yes") == (1, (
        f"faulty-file: your own {JOB} has errors, so nothing can be held against it\n"
        "  to mend: docgen proof says what is wrong there; then again\nNothing was written.\n"
    ))  # fmt: skip
    assert snapshot(met) == before


def test_origins_that_cannot_be_read_are_not_written_over(other: Path, met: Path) -> None:
    (met / "shared/origins.yaml").write_text("files: {x: 1}\n")
    before, parcel = snapshot(met), newer(other, WAIT)
    code, said = receive(met, parcel, "--yes")
    assert (code, said.splitlines()[0]) == (1, "faulty-file: shared/origins.yaml has errors: nothing is done with it")
    assert say(met, "pack", "ROT", "-o", str(met / "x.parcel")).exit_code == 1
    assert snapshot(met) == before


def test_what_somebody_saves_in_the_meantime_is_not_written_over(
    other: Path, met: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    parcel = newer(other, WAIT)

    def answers(session: Session, question: str) -> bool:
        edit(met, JOB, ("code: ROT", "code: ROT  # saved just now"))
        return True

    monkeypatch.setattr(Session, "asked", answers)
    code, said = receive(met, parcel)
    assert (code, said.splitlines()[-3:]) == (1, [
        f"changed-meanwhile: {JOB} has been changed since it was looked at: nothing was written",
        "  to mend: give the same command again",
        "Nothing was written.",
    ])  # fmt: skip
    assert "saved just now" in (met / JOB).read_text()


def test_a_shared_folder_that_is_a_link_is_not_written_through(other: Path, home: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (home / "shared").symlink_to(tmp_path / "elsewhere")
    code, said = receive(home, packed(other), "--yes")
    assert code == 1
    assert "link" in said
    assert list((tmp_path / "elsewhere").iterdir()) == []
    assert not (home / JOB).exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(other: Path, home: Path) -> None:
    home.chmod(0o500)
    code, said = receive(home, packed(other), "--yes")
    home.chmod(0o700)
    assert code == 1
    assert "read-only" in said


def test_whoever_comes_next_puts_the_rest_in_its_place(met: Path) -> None:
    text = (met / JOB).read_bytes().replace(b"10 min", b"11 min")
    write_once(met / PENDING, to_bytes({JOB: text}))
    result = say(met, "due", "--on", DAY)
    assert result.stderr == "Taking in a parcel had been cut off; it is whole now.\n"
    assert (met / JOB).read_bytes() == text
    assert not (met / PENDING).exists()
    assert say(met, "due", "--on", DAY).stderr == ""


def test_what_was_saved_after_the_cut_is_kept(met: Path) -> None:
    theirs = (met / JOB).read_bytes().replace(b"10 min", b"11 min")
    write_once(met / PENDING, to_bytes({JOB: theirs}))
    edit(met, JOB, ("code: ROT", "code: ROT  # saved after the cut"))
    saved = (met / JOB).read_bytes()
    assert say(met, "due", "--on", DAY).exit_code == 0
    assert saved in [path.read_bytes() for path in (met / "shared/replaced").iterdir()]


DAMAGE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "cut short": (lambda data: data[:-9], "the parcel is damaged or cut short"),
    "another file": (lambda _: to_bytes({"templates/checklist.html.j2": b"x"}),
                     "it holds templates/checklist.html.j2, which no parcel brings"),
    "out of the club": (lambda _: to_bytes({"../x.yaml": b"x"}),
                        'the parcel holds a file called "../x.yaml", which leads out of the club\'s folder'),
}  # fmt: skip


@pytest.mark.parametrize(("damage", "why"), DAMAGE.values(), ids=DAMAGE)
def test_a_rest_that_is_not_as_it_was_written_is_not_taken(
    met: Path, damage: Callable[[bytes], bytes], why: str
) -> None:
    write_once(met / PENDING, damage(to_bytes({JOB: b"x: 1\n"})))
    before = snapshot(met)
    result = say(met, "due", "--on", DAY)
    assert (result.exit_code, result.stderr) == (1, (
        f"damaged-parcel: shared/to-put is not as docgen receive wrote it ({why})\n"
        "  to mend: delete shared/to-put, then take the parcel in again\n"
    ))  # fmt: skip
    assert snapshot(met) == before
    assert not (met.parent / "x.yaml").exists()
