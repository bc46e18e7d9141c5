"""Cloths round the rod: without the steps that take them out, proofing finds every turn of the crank."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.bench.graph import Graph
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.expand import expand
from docgen.job.simulate import simulate

ROOT = Path(__file__).resolve().parents[2]
TURNS = (
    "Turn the rod round the crank pin, lightly pulled, then lightly pressed.",
    "Turn the crank slowly by its bare ends with the fingertips, one ear close.",
    "Turn the crank once, and measure the run-out of each shaft end.",
    "Turn the crank through two turns by hand.",
)


@pytest.fixture(scope="module")
def folder() -> Folder:
    return read_club(ROOT)


def turned_while_packed(folder: Folder, *, without: str = "") -> list[str]:
    """The steps of the bottom end that turn the crank over the cloth, with the steps that clear an opening left out."""
    model = folder.models["alder-100r"].value
    steps = expand(folder.procedures["bottom-end-check"], folder.sequences, model)
    kept = [one for one in steps if not (without and without in one.step.clears)]
    run = simulate(kept, Graph(model), model.limits)
    return [str(kept[fault.step].step.do) for fault in run.faults if fault.kind == "packed-turned"]


def test_every_turn_of_the_crank_is_marked(folder: Folder) -> None:
    steps = expand(folder.procedures["bottom-end-check"], folder.sequences, folder.models["alder-100r"].value)
    assert {step.step.do for step in steps if step.step.turns} >= set(TURNS)


def test_a_cloth_that_stays_round_the_rod_is_found_at_the_first_turn(folder: Folder) -> None:
    assert turned_while_packed(folder) == []
    assert turned_while_packed(folder, without="base-gasket")[:1] == [TURNS[0]]
