"""The mutation benchmark on one shipped job: its oracle's classes, and what proofing catches of them."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from benchmarks.mutation.models import model_mutants
from benchmarks.mutation.mutant import Kind, says, told
from benchmarks.mutation.oracle import Action, Oracle
from benchmarks.mutation.procedures import Mutator
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.references import reference_problems
from docgen.proof import proof_all
from tests.shares import share

ROOT = Path(__file__).resolve().parents[2]
JOB = "reed-inspection"
OWN = ("manifold-off", "reeds-off", "reeds-inspect", "reeds-on", "manifold-on", "carburettor-off", "carburettor-on")
SHARE, SEED = share(9, 40), 7
"""Of a hundred mutants."""


@pytest.fixture(scope="module")
def folder() -> Folder:
    return read_club(ROOT)


@pytest.fixture(scope="module")
def oracle(folder: Folder) -> Oracle:
    return Oracle(folder.models["alder-100r"].value, folder.club.value)


@pytest.fixture(scope="module")
def larch(folder: Folder) -> dict[tuple[str, str], str]:
    """The verdicts of one model's mutants, by operator and fastener."""
    return {(one.operator, one.where.partition(" ")[0]): one.verdict for one in model_mutants(folder, "larch-125w")}


NUT, WASHER = Action("undoes", "clutch-nut"), Action("removes", "outer-thrust-washer")
DRUM = Action("removes", "clutch-drum")
LOOK, TEXT, PIPE = Action("look", "drum-good"), Action("text", "Tidy the bench."), Action("undoes", "fuel-hose")
SOLVENT, GREASE = Action("cleans", "drum-bearing", "brake-cleaner"), Action("applies", "drum-bearing", "bearing-grease")


@pytest.mark.parametrize(
    ("before", "after", "verdict"),
    [
        ([NUT, WASHER, DRUM], [NUT, DRUM, WASHER], "harmful"),
        ([NUT, WASHER], [WASHER, NUT], "harmful"),
        ([NUT, WASHER], [NUT], "harmful"),
        ([NUT], [NUT, NUT], "harmful"),
        ([NUT, PIPE], [PIPE, NUT], "harmless"),
        ([NUT, LOOK], [NUT], "untold"),
        ([NUT, LOOK], [LOOK, NUT], "untold"),
        ([NUT, TEXT], [NUT], "untold"),
        ([SOLVENT, GREASE], [GREASE, SOLVENT], "harmful"),
        ([SOLVENT, GREASE], [SOLVENT], "harmful"),
        ([SOLVENT, NUT], [NUT, SOLVENT], "harmless"),
        ([NUT, WASHER], [NUT, WASHER], "harmless"),
    ],
)
def test_the_oracle_classes_by_pairs(oracle: Oracle, before: list[Action], after: list[Action], verdict: str) -> None:
    assert oracle.judge(before, after)[0] == verdict


@pytest.mark.parametrize(
    ("fastener", "verdict"),
    [
        ("clutch-cover-screws", "harmful"),  # the same on another type
        ("head-nuts", "harmful"),  # its stages say it
        ("carburettor-nuts", "untold"),  # the only type whose maker gives one
        ("pickup-screws", "untold"),  # on no other type
    ],
)
def test_half_a_torque_is_told_by_another_figure_only(
    larch: dict[tuple[str, str], str], fastener: str, verdict: str
) -> None:
    assert larch["torque times 0.5", fastener] == verdict
    assert larch["torque times 2", fastener] == "harmful"


@pytest.mark.slow
def test_one_shipped_job_reaches_the_aims(folder: Folder) -> None:
    """A share of its mutants, by lot; those of its sequences are tried in this job alone."""
    alone = replace(folder, problems=[], engines={}, procedures={JOB: folder.procedures[JOB]})
    at_rest = told([*reference_problems(alone), *proof_all(alone)])
    files: list[tuple[Kind, str]] = [("procedures", JOB), *(("sequences", name) for name in OWN)]
    drawn = random.Random(SEED)
    counts: Counter[tuple[str, bool]] = Counter()
    wrong: list[str] = []
    for kind, name in files:
        for mutant in Mutator(alone, kind, name, lambda: drawn.random() < SHARE / 100).mutants():
            found = says(alone, mutant, at_rest)
            counts[mutant.verdict, bool(found)] += 1
            if bool(found) != (mutant.verdict == "harmful") and mutant.verdict != "untold":
                wrong.append(f"{mutant.verdict} {mutant.operator}, {mutant.where}: {found}")
    harmful = counts["harmful", True] + counts["harmful", False]
    harmless = counts["harmless", True] + counts["harmless", False]
    assert harmful > SHARE * 1.5
    assert harmless > SHARE
    assert counts["harmful", True] / harmful > 0.95, wrong
    assert counts["harmless", True] / harmless < 0.02, wrong
