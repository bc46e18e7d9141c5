"""The mutation benchmark on one shipped job: its oracle's classes, and what proofing catches of them."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from benchmarks.mutation.models import model_mutants
from benchmarks.mutation.mutant import Mutant, says
from benchmarks.mutation.oracle import Action, Oracle
from benchmarks.mutation.procedures import Mutator
from docgen.club.folder import Folder
from docgen.club.read import read_club

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def folder() -> Folder:
    return read_club(ROOT)


@pytest.fixture(scope="module")
def oracle(folder: Folder) -> Oracle:
    assert folder.club is not None
    return Oracle(folder.models["alder-100r"].value, folder.club.value)


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
def test_half_a_torque_is_told_by_another_figure_only(folder: Folder, fastener: str, verdict: str) -> None:
    made = {(one.operator, one.where.partition(" ")[0]): one.verdict for one in model_mutants(folder, "larch-125w")}
    assert made["torque times 0.5", fastener] == verdict
    assert made["torque times 2", fastener] == "harmful"


@pytest.mark.slow
def test_one_shipped_job_reaches_the_aims(folder: Folder) -> None:
    counts: Counter[tuple[str, bool]] = Counter()
    survivors: list[Mutant] = []
    files = [("procedures", "reed-inspection"), ("sequences", "manifold-off"), ("sequences", "reeds-off"),
             ("sequences", "reeds-inspect"), ("sequences", "reeds-on"), ("sequences", "manifold-on"),
             ("sequences", "carburettor-off"), ("sequences", "carburettor-on")]  # fmt: skip
    for mutant in (one for kind, name in files for one in Mutator(folder, kind, name).mutants()):
        caught = bool(says(folder, mutant))
        counts[mutant.verdict, caught] += 1
        survivors += [mutant] if mutant.verdict == "harmful" and not caught else []
    harmful = counts["harmful", True] + counts["harmful", False]
    harmless = counts["harmless", True] + counts["harmless", False]
    assert harmful > 100
    assert harmless > 60
    assert counts["harmful", True] / harmful > 0.95, [f"{m.operator}: {m.where}" for m in survivors]
    assert counts["harmless", True] / harmless < 0.02
