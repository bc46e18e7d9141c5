"""What proofing found nothing in is not proofed again; what it found something in, or what is different, is."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.desk import notes, proofed
from docgen.desk.wanted import Wanted, wanted_jobs
from docgen.proof import proofing
from tests.cli.record_club import say
from tests.cli.test_print import FAULTY
from tests.smallclub import write

ON = date(2030, 4, 1)


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small club of which it is worth keeping what was proofed."""
    monkeypatch.setattr(proofed, "WORTH", 0)
    return write(tmp_path)


@pytest.fixture
def simulated(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each job that is simulated."""
    runs: list[int] = []
    simulate = proofing.simulate
    monkeypatch.setattr(proofing, "simulate", lambda *given: runs.append(1) or simulate(*given))
    return runs


def wanted(root: Path, on: date = ON) -> list[Wanted]:
    return wanted_jobs(read_club(root), (), ("ROT",), on, say=print)


def test_a_second_run_proofs_nothing(club: Path, simulated: list[int]) -> None:
    first = wanted(club)
    assert [one.faults for one in first] == [(), ()]
    assert simulated
    simulated.clear()
    assert wanted(club) == first
    assert simulated == []


@pytest.mark.parametrize("name", ["procedures/rotor-service.yaml", "club.yaml"])
def test_another_text_is_proofed(club: Path, simulated: list[int], name: str) -> None:
    wanted(club)
    simulated.clear()
    path = club / name
    path.write_text(path.read_text("utf-8") + "# more\n", "utf-8")
    wanted(club)
    assert simulated


def test_another_day_another_program_and_a_deviation_are_proofed(
    club: Path, simulated: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    def again(on: date = ON) -> int:
        simulated.clear()
        wanted(club, on)
        return len(simulated)

    once = again()
    assert (once, again()) == (1, 0), "both engines are as their type, and are proofed as one"
    assert again(date(2030, 4, 2)) == 1
    monkeypatch.setattr(notes, "today", lambda: date(2030, 3, 10))
    words = ("note", "deviation", "7A", "rotor", "Balanced.", "--on", "2030-03-01", "--by", "Bo", "--yes")
    result = say(club, *words)
    assert result.exit_code == 0, result.output
    assert (again(), again()) == (2, 0), "that engine, and the day that was not the last"
    monkeypatch.setattr(proofed, "program_digest", lambda: "a later version")
    assert again() == 2


def test_what_was_found_is_found_again(club: Path, simulated: list[int]) -> None:
    path = club / "procedures/rotor-service.yaml"
    text = path.read_text("utf-8")
    assert FAULTY in text
    path.write_text(text.replace(FAULTY, ""), "utf-8")
    first = wanted(club)
    assert all(one.faults for one in first)
    simulated.clear()
    assert [one.faults for one in wanted(club)] == [one.faults for one in first]
    assert simulated


@pytest.mark.parametrize("spoil", [
    lambda data: data[:-1], lambda data: b"", lambda data: b"[1]", lambda data: b"\xff",
    lambda data: data.replace(b'"of"', b'"off"'), lambda data: data[: data.index(b"[")] + b"[1, null]}",
])  # fmt: skip
def test_a_damaged_file_is_no_file(club: Path, simulated: list[int], spoil: Callable[[bytes], bytes]) -> None:
    first = wanted(club)
    path = club / proofed.PLACE
    path.write_bytes(spoil(path.read_bytes()))
    simulated.clear()
    assert wanted(club) == first
    assert simulated


def test_of_a_small_club_nothing_is_kept(tmp_path: Path) -> None:
    wanted(write(tmp_path))
    assert not (tmp_path / "out").exists()
