"""A command that writes into one record reads that one, and every record that a half-written move could show in."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.desk.opening import PLACE, RECORDS, read_before
from tests.cli.record_club import numbered, on_the_day, say

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """The demo's club, without what was printed."""
    for name in ("procedures", "models", "engines"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("issued"))
    shutil.copy(ROOT / "club.yaml", tmp_path)
    return tmp_path


def moved(root: Path) -> set[str]:
    """The engines whose logs name a move or a correction."""
    kinds = ("component", "correction")
    return {path.parents[1].name for kind in kinds for path in root.glob(f"engines/*/log/*-{kind}-*")}


def test_what_is_needed_is_read_and_no_more(club: Path) -> None:
    whole, some = read_club(club), read_club(club, engines=["017", "999"])
    assert whole.problems == some.problems == []
    assert whole.unread == frozenset()
    assert set(some.engines) == {"017"} | moved(club)
    assert 1 < len(some.engines) < len(whole.engines)
    assert some.unread == whole.engines.keys() - some.engines.keys()
    for number, record in some.engines.items():
        assert record.engine == whole.engines[number].engine
        assert [entry.digest for entry in record.log.entries] == [e.digest for e in whole.engines[number].log.entries]


def test_half_a_move_in_another_record_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever engine is asked for: the one whose log says nothing of it, or the one that moved alone."""
    on_the_day(monkeypatch)
    root = numbered(tmp_path)
    assert say(root, "move", "R-1", "8B", "--on", "2030-05-06", "--yes").exit_code == 0
    answers = [path for path in root.glob("engines/*/log/*-component-*") if "counterpart:" in path.read_text("utf-8")]
    assert len(answers) == 1
    answers[0].unlink()
    whole = read_club(root).problems
    assert [problem.name for problem in whole] == ["unfinished-move", "unfinished-move"]
    for number in ("7A", "8B"):
        assert read_club(root, engines=[number]).problems == whole


def test_what_is_known_of_all_records_is_left_alone(club: Path) -> None:
    with read_before(club) as known:
        read_club(club, known)
    kept = (club / RECORDS).read_bytes()
    assert (club / PLACE).exists()
    with read_before(club, records=False) as known:
        read_club(club, known, engines=["017"])
        assert known.new == 0
        assert known.engines is not None
        known.engines.new = 10_000
    assert (club / RECORDS).read_bytes() == kept


@pytest.mark.parametrize("words", [
    ("ran", "17", "3 x 12"), ("ran", "017 12 min", "--by", "Jo", "--on", "2027-02-20"), ("note", "finding", "01", "it"),
    ("note", "finding", "017", "Weeps", "--by", "Jo", "--on", "2027-02-20"),
])  # fmt: skip
def test_the_same_is_said_as_when_all_were_read(
    club: Path, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    run = CliRunner()
    some = run.invoke(docgen, ["--club", str(club), *words], input="n\n")
    asked: list[str] = []
    monkeypatch.setattr("docgen.club.read._Reading._moved", lambda _, number: asked.append(number) or True)
    whole = run.invoke(docgen, ["--club", str(club), *words], input="n\n")
    assert (some.stdout, some.stderr, some.exit_code) == (whole.stdout, whole.stderr, whole.exit_code)
    assert some.output
    assert asked
