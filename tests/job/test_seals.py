"""Where a seal is broken, and where the new one goes on."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step
from docgen.job.marks import SealMark
from docgen.job.resolve import resolve
from docgen.job.seals import broken
from tests.proof.pages import club_with, findings, read_page
from tests.smallclub import texts, write

PAGES = Path(__file__).resolve().parents[2] / "docs" / "rules"
MODEL = Model.model_validate(
    {
        "model": "m",
        "title": "M",
        "manual": "M",
        "equipment": ["x"],
        "parts": {
            "cylinder": {"held_by": ["nuts", "water-hose"], "sealable": "true"},
            "head": {"held_by": ["head-nuts"], "sealable": "true"},
            "cover": {"held_by": ["screws"]},
        },
        "fasteners": {
            "nuts": {"count": "4"},
            "head-nuts": {"count": "4"},
            "screws": {},
            "water-hose": {"catch": "hose"},
        },
    }
)


def steps(*each: dict[str, object]) -> list[Step]:
    return [Step.model_validate({"do": "Work.", **one}) for one in each]


@pytest.mark.parametrize(
    ("work", "breaks"),
    [
        # Before the first nut, not when the part is lifted; and once.
        ([{"undoes": "nuts"}, {"removes": "cylinder"}], {0: ("cylinder",)}),
        ([{"undoes": "nuts/2"}, {"undoes": "nuts"}], {0: ("cylinder",)}),
        ([{"removes": "cylinder"}], {0: ("cylinder",)}),
        # A hose does not hold a seal, and a part that carries none has nothing to break.
        ([{"undoes": "water-hose"}, {"undoes": "screws"}, {"removes": "cover"}], {}),
        ([{"undoes": "head-nuts"}, {"removes": "head"}, {"undoes": "nuts"}], {0: ("head",), 2: ("cylinder",)}),
        ([{"undoes": ["head-nuts", "nuts"]}], {0: ("cylinder", "head")}),
    ],
)
def test_the_first_act_that_breaks_it(work: list[dict[str, object]], breaks: dict[int, tuple[str, ...]]) -> None:
    assert broken(steps(*work), MODEL) == breaks


def seals(root: Path, engine: str = "7A", **changes: str) -> list[tuple[int, int, str, str]]:
    folder = read_club(write(root, dict(changes)))
    assert folder.problems == []
    done = resolve(folder, folder.engines[engine], folder.procedures["rotor-service"], date(2030, 4, 1))
    return [
        (step.number, step.marks.index(mark), mark.key, mark.number)
        for step in done.instructions.steps
        for mark in step.marks
        if isinstance(mark, SealMark)
    ]


def test_stop_stands_first_in_its_step_and_the_new_seal_behind_all_work(tmp_path: Path) -> None:
    (broken_at, first, off, number), (sealed_at, _, on, _) = seals(tmp_path)
    assert (broken_at, first, off, number) == (1, 0, "seal-off-side-plate", "S-100")
    assert (sealed_at, on) == (17, "seal-on-side-plate")
    folder = read_club(tmp_path)
    done = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], date(2030, 4, 1)).instructions
    worked_on = [step.number for step in done.steps if any(mark.mark in ("torque", "reading") for mark in step.marks)]
    assert sealed_at == max(worked_on)
    assert [(seal.item, seal.number) for seal in done.seals] == [("side-plate", "S-100")]


def test_an_engine_without_a_seal_gets_no_row(tmp_path: Path) -> None:
    assert seals(tmp_path, "8B") == []


JOB_PATH = "procedures/job.yaml"


UNDONE = """\
      - do: Undo the nuts of the cylinder once more.
        undoes: [cylinder-nuts]
      - do: Tighten the nuts of the cylinder.
        tightens: [cylinder-nuts]
"""
GONE_OVER = """\
      - do: Tighten the nuts of the cylinder again.
        tightens: [cylinder-nuts]
        again: true
"""


@pytest.mark.parametrize("after", [UNDONE, GONE_OVER])
def test_a_seal_before_a_refit_is_found(tmp_path: Path, after: str) -> None:
    page = read_page(PAGES / "seal-too-soon.md")
    files = {**page.passing, JOB_PATH: page.passing[JOB_PATH] + after}
    found = [p.message for p in findings(club_with(tmp_path / "club", files), None, None) if p.name == "seal-too-soon"]
    assert found == ["cylinder is sealed here, but later cylinder-nuts is worked on"]


def test_the_small_club_says_where_its_seal_goes() -> None:
    assert "seals: [side-plate]" in texts()["procedures/rotor-service.yaml"]
