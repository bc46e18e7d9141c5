"""What was proofed is not proofed again; what is different is, and whatever looks at it."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from docgen.club.cache import RecordCache
from docgen.club.read import read_club
from docgen.desk import findings as module
from docgen.desk import notes
from docgen.desk.selection import Wanted, wanted_jobs
from docgen.job import simulate
from docgen.proof import Seen, proof_all, proofing
from tests.cli.record_club import say
from tests.cli.test_print import FAULTY
from tests.conftest import ROOT
from tests.proof.pages import PAGES, club_with, findings, read_page
from tests.shares import share
from tests.smallclub import write

ON = date(2030, 4, 1)


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small club of which it is worth keeping what was proofed."""
    monkeypatch.setattr(module, "WORTH", 0)
    return write(tmp_path)


@pytest.fixture
def simulated(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """One entry for each job that is simulated."""
    runs: list[int] = []
    whole = simulate.simulate
    monkeypatch.setattr(simulate, "simulate", lambda *given: runs.append(1) or whole(*given))
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
    assert (again(), again()) == (1, 0), "that engine; the other was proofed for this day before"
    monkeypatch.setattr(module, "program_digest", lambda: "a later version")
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
    assert simulated == []


def as_kept(seen: Seen) -> Seen:
    read: Seen = json.loads(json.dumps(seen))
    return read


def test_every_rule_finds_the_same_again_without_looking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All pages of rules with one record of what was found, however much alike their files are."""
    seen: Seen = {}
    pages = [read_page(path) for path in sorted(PAGES.glob("*.md")) if path.name != "README.md"]
    clubs = [(club_with(tmp_path / page.name, page.failing), page) for page in pages]
    for root, page in clubs:
        assert "".join(f"{one}\n" for one in findings(root, page.on, page.engine, seen)) == page.says
    assert len(clubs) > 90
    seen, look = as_kept(seen), proofing._findings
    monkeypatch.setattr(proofing, "_findings", lambda scope, of: look(scope, of) if scope == "on_silences" else 1 / 0)
    for root, page in reversed(clubs):
        assert "".join(f"{one}\n" for one in findings(root, page.on, page.engine, seen)) == page.says


def test_a_club_with_slips_is_proofed_as_if_nothing_were_known() -> None:
    """A line left out, written twice or with another figure, in any file that proofing looks at."""
    known, seen, chance = RecordCache(), Seen(), random.Random(5)
    known.before = known.used
    proof_all(read_club(ROOT, known), ON, seen=seen)
    paths = [ROOT / "club.yaml", *(path for kind in ("procedures", "models") for path in ROOT.glob(f"{kind}/*.yaml"))]
    differ = set()
    for path in chance.sample(sorted(paths), share(4, 60)):
        lines = path.read_text("utf-8").splitlines(keepends=True)
        at = chance.randrange(len(lines))
        figure = re.sub("[0-9]", lambda one: str((int(one[0]) + 1) % 10), lines[at])
        lines[at : at + 1] = chance.choice([[], [lines[at]] * 2, [figure]])
        folder = read_club(ROOT, known, {path.relative_to(ROOT).as_posix(): "".join(lines).encode()})
        seen = as_kept(seen)
        found = proof_all(folder, ON, seen=seen)
        assert found == proof_all(folder, ON)
        differ.add(tuple(found))
    assert len(differ) > 1


@pytest.mark.parametrize("spoil", [
    lambda data: data[:-1], lambda data: b"", lambda data: b"[1]", lambda data: b"\xff",
    lambda data: data[:10] + b"0" + data[11:], lambda data: data[: data.index(b"[")] + b"[1, null]}",
])  # fmt: skip
def test_a_damaged_file_is_no_file(club: Path, simulated: list[int], spoil: Callable[[bytes], bytes]) -> None:
    first = wanted(club)
    path = club / module.PLACE
    path.write_bytes(spoil(path.read_bytes()))
    simulated.clear()
    assert wanted(club) == first
    assert simulated


def test_of_a_small_club_nothing_is_kept(tmp_path: Path) -> None:
    wanted(write(tmp_path))
    assert not (tmp_path / "out").exists()
