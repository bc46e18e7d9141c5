"""A seal goes where its component goes; a sheet speaks of the components that its job works on, and of no others."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.job.issue import issue, number_of
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.share.currency import SheetStanding, Wall
from tests.cli.record_club import on_the_day, say
from tests.smallclub import texts, write

DAY = date(2030, 6, 1)
LOOK = """\
procedure: look-round
title: Look round
code: LOO
revision: 1
dated: 2030-01-15
author: A. Tester
licence: CC-BY-4.0
stages:
  - stage: Look
    steps:
      - do: Look at the side plate.
        look: {id: whole, accept: Whole., fail: {do: Write it down.}}
        takes: 1 min
"""


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A sealed plate with a number of its own on each of two engines, and a job that does not touch it."""
    on_the_day(monkeypatch)
    changes: dict[str, str | None] = {"procedures/look-round.yaml": LOOK}
    for engine, number, seal in (("7A", "P-1", "S-1"), ("8B", "P-2", "S-2")):
        path = f"engines/{engine}/engine.yaml"
        text = texts()[path].replace("received: 2030-02-01", "received: 2029-02-01")
        lines = [line for line in text.splitlines() if not line.startswith(("seals:", "  side-plate:"))]
        own = (f"seals: {{side-plate: {seal}}}", f"components: {{side-plate: {number}}}", "")
        changes[path] = "\n".join((*lines, *own))
    return write(tmp_path / "club", changes)


def seals(root: Path) -> dict[str, str]:
    folder = read_club(root)
    assert [str(one) for one in folder.problems] == []
    return {name: state_of(record, DAY).seals.get("side-plate", "") for name, record in folder.engines.items()}


def moved(root: Path, *words: str) -> None:
    result = say(root, "move", *words, "--on", "2030-05-06", "--yes")
    assert result.exit_code == 0, result.output


def test_a_swap_takes_both_seals_along(root: Path) -> None:
    assert seals(root) == {"7A": "S-1", "8B": "S-2"}
    moved(root, "P-1", "8B", "--swap")
    assert seals(root) == {"7A": "S-2", "8B": "S-1"}


def test_over_the_shelf_it_is_still_on(root: Path) -> None:
    moved(root, "P-1", "shelf")
    assert seals(root) == {"7A": "", "8B": "S-2"}
    moved(root, "P-1", "8B")
    assert seals(root) == {"7A": "", "8B": "S-1"}


def standings(root: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, SheetStanding]:
    """How a leaf of each job of engine 7A stands, printed before the plates were swapped."""
    folder = read_club(root)
    names = ("look-round", "rotor-service")
    jobs = [issue(root / "engines/7A/issued", resolve(folder, folder.engines["7A"], folder.procedures[name], DAY))
            for name in names]  # fmt: skip
    moved(root, "P-1", "8B", "--swap")
    wall = Wall(read_club(root), DAY)
    return {name: wall.standing(number_of(job)) for name, job in zip(names, jobs, strict=True)}


def test_a_swap_voids_the_sheets_that_print_what_was_swapped_and_no_others(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = standings(root, monkeypatch)
    assert found["look-round"].state == "current"
    changed = found["rotor-service"]
    assert changed.state == "changed"
    first, *others = changed.found
    assert first.where.startswith("seal")
    assert (first.before, first.after) == ("S-1", "S-2")
    assert any("P-2" in one.after for one in others)
