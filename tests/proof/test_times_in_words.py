"""Times in a job's texts against what its steps add up to."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from docgen.proof.rules.time_in_words import times
from tests.proof.pages import club_with, findings

JOB = """\
procedure: job
title: %s
code: EXA
revision: 1
dated: 2027-01-10
licence: CC-BY-4.0
purpose: %s
stages:
  - stage: Work
    steps:
      - do: Clean the outside of the cover.
        takes: 20 min
      - do: Let it dry.
%s
      - do: Look at the cover.
        look: {id: cover-whole, accept: No crack., fail: {do: Write it under findings.}}
%s
"""


def said(root: Path, purpose: str = "Cracks.", title: str = "Job", why: str = "", takes: str = "5 min") -> list[str]:
    wait = "        wait: {for: 40 min%s}" % (f', why: "{why}"' if why else "")
    job = JOB % (title, purpose, wait, f"        takes: {takes}" if takes else "")
    found = findings(club_with(root / "club", {"procedures/job.yaml": job}), None, None)
    return [problem.message for problem in found if problem.name == "time-in-words"]


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("Twenty minutes tell.", [20]),
        ("It takes about half an hour.", [30]),
        ("1.5 h of work.", []),  # of: a time of something else
        ("It takes 1.5 h.", [90]),
        ("A quarter of an hour, then two days.", [15, 2880]),
        ("every five hours, within a minute, an hour ago, once a day, after ten minutes", []),
        ("Ten turns and six months.", []),
    ],
)
def test_what_is_a_time_of_the_work(text: str, minutes: list[int]) -> None:
    assert [found for _, found in times(text)] == [Fraction(one) for one in minutes]


@pytest.mark.parametrize("text", ["Half an hour finds them.", "An hour finds them.", "70 minutes find them.", "Now."])
def test_what_is_near_to_the_work_or_to_the_whole_is_let_be(tmp_path: Path, text: str) -> None:
    """25 min of work, 65 min with the wait: within a quarter of either."""
    assert said(tmp_path, text) == []


def test_what_is_off_is_said(tmp_path: Path) -> None:
    works = "but the steps take 25 min, and 40 min of waits"
    assert said(tmp_path / "a", "Ten minutes find them.") == [f"the purpose says 'Ten minutes', {works}"]
    assert said(tmp_path / "b", title="Cracks in 2 h") == [f"the title says '2 h', {works}"]
    assert said(tmp_path / "c", why="Water needs ten minutes to go.") == [
        "the text says 'ten minutes', but the wait is 40 min"
    ]
    assert said(tmp_path / "d", why="Water needs forty minutes to go.") == []


def test_a_job_whose_steps_give_no_time_may_take_longer(tmp_path: Path) -> None:
    assert said(tmp_path / "a", "Two hours find them.", takes="") == []
    assert said(tmp_path / "b", "Ten minutes find them.", takes="") != []
