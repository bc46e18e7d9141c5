"""A command that only reads says the same again without reading, and reads again when anything is different."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli import _replay
from docgen.cli._stamps import PLACE
from docgen.cli.frame import Session, docgen
from tests.smallclub import write

DUE = ("due", "--on", "2030-04-01")


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A club of which it is worth remembering what was said."""
    monkeypatch.setattr(_replay, "WORTH", 0)
    return write(tmp_path / "club")


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


def told(result: Result) -> tuple[str, str, int]:
    return result.stdout, result.stderr, result.exit_code


@pytest.mark.parametrize("words", [DUE, ("proof",), ("engine", "7A"), ("components",), ("due", "--json")])
def test_the_same_is_said_without_reading(club: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    first = told(say(club, *words))
    assert first[0] + first[1]
    monkeypatch.setattr(Session, "read", lambda _: pytest.fail("the club was read"))
    assert told(say(club, *words)) == first


def test_faults_are_said_again_with_their_exit_code(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = club / "engines/7A/engine.yaml"
    path.write_text(path.read_text("utf-8") + "keper: Jo\n", "utf-8")
    first = told(say(club, *DUE))
    assert first[2] == 1
    assert "keper" in first[1]
    monkeypatch.setattr(Session, "read", lambda _: pytest.fail("the club was read"))
    assert told(say(club, *DUE)) == first


def test_other_words_another_day_and_an_edit_are_read_anew(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = told(say(club, *DUE))
    assert told(say(club, "due", "--on", "2030-04-02", "--all")) != first
    path = club / "engines/7A/engine.yaml"
    before = path.stat()
    text = path.read_text("utf-8")
    path.write_text(text.replace("keeper: ", "kepeer: "), "utf-8")
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert path.stat().st_size == before.st_size
    edited = told(say(club, *DUE))
    assert edited[2] == 1
    assert "kepeer" in edited[1]
    path.write_text(text, "utf-8")
    assert told(say(club, *DUE)) == first
    monkeypatch.setattr(_replay, "today", lambda: "tomorrow")
    read = []
    whole = Session.read
    monkeypatch.setattr(Session, "read", lambda self, *some, **more: read.append(1) or whole(self, *some, **more))
    assert told(say(club, *DUE)) == first
    assert read == [1]


def test_what_was_not_understood_is_not_kept(club: Path) -> None:
    first = told(say(club, "due", "99"))
    assert first[2] == 2
    assert 'there is no engine "99"' in first[1]
    assert "Usage: docgen due " in first[1]
    assert not (club / "out" / PLACE).exists()


def test_a_damaged_stamp_is_no_stamp(club: Path) -> None:
    first = told(say(club, *DUE))
    stamps = list((club / "out" / PLACE).iterdir())
    assert len(stamps) == 1
    for data in (b"", b"{}", b'{"said": 1}', b"\xff", b"[1]"):
        stamps[0].write_bytes(data)
        assert told(say(club, *DUE)) == first


def test_of_a_small_club_nothing_is_kept(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, *DUE).exit_code == 0
    assert not (root / "out").exists()
