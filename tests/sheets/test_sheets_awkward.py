"""Long, odd and missing input: the press finds no overflow, no split step, no lonely heading, no blank page."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from docgen.job.job import Job, JobStage, JobStep, ToolLine
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff
from tests.shares import share
from tests.sheets.conftest import press
from tests.sheets.sample import sample_club, sample_job

LONG = (
    "Loosen every one of the screws of the metering cover a quarter of a turn at a time, crosswise, until none of them "
    "carries any load, and then lift the cover straight up without tilting it, so that neither the diaphragm nor its "
    "gasket tears or is pulled out of its groove at any of the corners."
)
NAME = "Maximiliane Alexandra Featherstonehaugh-Wolfeschlegelsteinhausenbergerdorff"


def steps(count: int, text: str) -> tuple[JobStage, ...]:
    return (
        JobStage(title="Work", steps=tuple(JobStep(number=n, key=f"s{n}", text=text) for n in range(1, count + 1))),
    )


def bare() -> Job:
    return sample_job(tools=(), materials=(), spares=(), deviations=(), seals=(), before=(), closing=(), after_run=(),
                      purpose="", author="", serial="", components={}, stages=steps(1, "Look."))  # fmt: skip


def named() -> Job:
    job = sample_job(
        engine="ABC123",
        title="A very long title of a job that goes on and on, over carburettors, clutches and everything between them",
        serial="SERIAL-0123456789-ABCDEFGHIJ",
        model_title="Alder One Hundred and Twenty-Five Water-Cooled Special Edition Mark Seven",
        manual="The very long workshop manual of the Alder works in five volumes, issue 12",
    )
    return job.model_copy(update={"issue": job.issue.model_copy(update={"keeper": NAME})})


def many_deviations() -> Job:
    line = sample_job().instructions.deviations[0]
    return sample_job(deviations=tuple(line.model_copy(update={"name": f"Screw {n}"}) for n in range(14)))


def many_tools() -> Job:
    name = "Torque wrench 20 to 110 N.m with an extension and a very long name"
    tools = tuple(ToolLine(id=f"t{n}", name=name, used_for="everything that has a thread") for n in range(12))
    return sample_job(tools=tools)


CASES: dict[str, Callable[[], Job]] = {
    "one step and nothing else": bare,
    "60 steps": lambda: sample_job(stages=steps(60, "Undo the next screw and lay it down.")),
    "120 steps": lambda: sample_job(stages=steps(120, "Undo the next screw.")),
    "steps of 300 characters": lambda: sample_job(stages=steps(6, LONG)),
    "long names": named,
    "14 deviations": many_deviations,
    "12 tools": many_tools,
    "Hebrew and Japanese": lambda: sample_job(title="בדיקת מצמד", stages=steps(3, "クラッチを点検する。")),
}


PAPERS = [("A4", "450 mm"), ("Letter", "1000 mm")]
"""In an everyday run each case is printed on one of them, in turn; tests/paper measures each on A4 for 700 mm."""
LEAVES = [(case, *PAPERS[(n + turn) % 2]) for turn in range(share(1, 2)) for n, case in enumerate(CASES)]


@pytest.mark.parametrize(("case", "paper", "distance"), LEAVES)
def test_checklist_holds(case: str, paper: str, distance: str) -> None:
    job = CASES[case]()
    assert press(leaf(job, sample_club(paper, distance)), job).pages >= 1


@pytest.mark.parametrize("paper", ["Letter", "A4"][: share(1, 2)])
@pytest.mark.parametrize("case", CASES)
def test_signoff_holds(case: str, paper: str) -> None:
    job = CASES[case]()
    assert press(signoff(job, sample_club(paper)), job, forms=True).pages >= 1


def test_text_from_files_cannot_become_markup_or_style() -> None:
    evil = '<b onclick="x">&amp;</b> {{ 7*7 }} "; } body { display: none } \\'
    job = sample_job(title=evil, engine="017", stages=steps(1, evil))
    for page in (leaf(job, sample_club()), signoff(job, sample_club())):
        assert "<b onclick" not in page.html
        assert "display: none" not in page.css
        assert "{{ 7*7 }}" in page.html
