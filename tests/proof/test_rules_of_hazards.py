"""Exhaust gas before every run, a fire extinguisher before fuel and solvent."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.proof.pages import EXAMPLE_CLUB, club_with, findings

JOB = """\
procedure: job
title: Example job
code: EXA
revision: 1
dated: 2027-01-10
licence: CC-BY-4.0
%ssafety:
  - word: warning
    hazards: [%s]
    hazard: It burns, turns and gives off gas.
    consequence: It hurts.
    avoid: Keep away, outdoors.
stages:
  - stage: Work
    steps:
%s"""
RUN = "      - do: Start the engine outdoors.\n        runs: true\n"
CLEAN = "      - do: Clean the cover with brake cleaner.\n        cleans: {cover: brake-cleaner}\n"
FUEL = "      - do: Draw the tank empty.\n        meets: [fuel]\n"


def said(root: Path, hazards: str, steps: str, head: str = "") -> list[tuple[str, str]]:
    club = (EXAMPLE_CLUB / "club.yaml").read_text("utf-8")
    club = club.replace("tools:\n", "tools:\n  extinguisher: {name: Fire extinguisher}\n")
    files = {"procedures/job.yaml": JOB % (head, hazards, steps), "club.yaml": club}
    found = findings(club_with(root / "club", files), None, None)
    return [(problem.name, problem.message) for problem in found]


def test_a_run_needs_a_message_about_its_gas(tmp_path: Path) -> None:
    assert said(tmp_path / "a", "turning, noise, heat, exhaust", RUN) == []
    assert said(tmp_path / "b", "turning, noise, heat, fumes", RUN) == [
        ("hazard-before-message", "this step meets exhaust before any message about it")
    ]


@pytest.mark.parametrize(
    ("head", "asked"),
    [
        ("", False),
        ("before: [Fresh air moving through the room.]\n", False),
        ("before: [Fire extinguisher in reach.]\n", True),
        ("tools: [extinguisher]\n", True),
    ],
)
@pytest.mark.parametrize(("hazard", "step"), [("solvent", CLEAN), ("fuel", FUEL)])
def test_an_extinguisher_is_asked_for(tmp_path: Path, hazard: str, step: str, head: str, asked: bool) -> None:
    found = said(tmp_path, hazard, step, head)
    message = f"this job meets {hazard}, and nothing asks for a fire extinguisher"
    assert found == ([] if asked else [("no-extinguisher", message)])


def test_a_job_without_either_needs_none(tmp_path: Path) -> None:
    assert said(tmp_path, "turning, noise, heat, exhaust", RUN) == []
