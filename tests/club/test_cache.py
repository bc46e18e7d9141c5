"""What was read before saves time and changes nothing; and it is believed only when it may be."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club import cache as module
from docgen.club.cache import RecordCache, from_bytes
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.desk.opening import PLACE, WORTH, read_before
from tests.smallclub import write


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The small club with two events."""
    root = write(tmp_path / "club")
    append(root / "engines/7A/log", {"event": "run", "date": "2030-03-01", "hours": "36 min"}, ())
    append(root / "engines/8B/log", {"event": "setting", "date": "2030-03-01", "setting": "timng", "value": "x"}, ())
    return root


def test_what_is_known_reads_the_same_with_the_same_problems_at_the_same_places(club: Path) -> None:
    plain = read_club(club)
    first = RecordCache()
    read_club(club, first)
    again = from_bytes(first.to_bytes())
    found = read_club(club, again)
    assert (first.new, again.new) == (7, 0)
    assert [str(p) for p in found.problems] == [str(p) for p in plain.problems]
    assert [(p.line, p.col, p.name) for p in found.problems] == [(3, 10, "unknown-setting")]
    for number in ("7A", "8B"):
        one, two = plain.engines[number], found.engines[number]
        assert (one.engine, one.log.events, one.log.head) == (two.engine, two.log.events, two.log.head)
        assert dict(one.document.values) == dict(two.document.values)
        assert len(two.document.keys) == len(one.document.keys)


@pytest.mark.parametrize("end", [b"\n", b"\r\n", b"\r"])
def test_line_ends_of_any_system_give_the_same_text(club: Path, end: bytes) -> None:
    path = club / "engines/7A/engine.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", end))
    known = RecordCache()
    first = read_club(club, known).engines["7A"].document
    again = read_club(club, from_bytes(known.to_bytes())).engines["7A"].document
    assert (again.text, again.lines) == (first.text, first.lines)


def test_a_changed_file_is_never_taken_for_what_it_was(club: Path) -> None:
    known = RecordCache()
    read_club(club, known)
    (path,) = (club / "engines/7A/log").iterdir()
    path.write_bytes(path.read_bytes().replace(b"36", b"63"))
    found = read_club(club, from_bytes(known.to_bytes()))
    assert [p.name for p in found.problems if p.path.startswith("engines/7A")] == ["event-changed"]


def test_a_file_with_problems_is_not_kept(club: Path) -> None:
    (club / "engines/7A/engine.yaml").write_text("engine: 7A\nengine: 7A\n", "utf-8")
    known = RecordCache()
    first = [str(p) for p in read_club(club, known).problems]
    again = from_bytes(known.to_bytes())
    assert [str(p) for p in read_club(club, again).problems] == first
    assert any(" duplicate-key: " in p for p in first), first
    assert (known.new, again.new) == (6, 0)


@pytest.mark.parametrize(
    "damage", [lambda b: b[:-1], lambda b: b"", lambda b: b.replace(b"7A", b"8A"), lambda b: b"{}"]
)
def test_a_damaged_file_is_not_believed(club: Path, damage: object) -> None:
    known = RecordCache()
    read_club(club, known)
    assert callable(damage)
    assert from_bytes(damage(known.to_bytes())).before == {}


def test_what_another_reader_read_is_not_believed(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    known = RecordCache()
    read_club(club, known)
    kept = known.to_bytes()
    monkeypatch.setattr(module, "_reader", lambda: "another version")
    assert from_bytes(kept).before == {}


def test_a_small_club_keeps_nothing_and_a_large_one_does(club: Path) -> None:
    with read_before(club) as known:
        read_club(club, known)
    assert not (club / "out").exists()
    with read_before(club) as known:
        read_club(club, known)
        known.new = WORTH
    assert (club / PLACE).is_file()
    with read_before(club) as known:
        read_club(club, known)
    assert known.new == 0


def test_a_place_that_cannot_be_written_is_no_matter(club: Path) -> None:
    (club / "out").write_text("a file", "utf-8")
    with read_before(club) as known:
        read_club(club, known)
        known.new = WORTH
    assert (club / "out").read_text("utf-8") == "a file"
