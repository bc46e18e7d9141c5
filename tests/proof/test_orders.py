"""Any order that the model allows simulates clean; a step left out, and two turned round that matter, are found."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.bench.faults import Fault
from docgen.club.bench.graph import Graph
from docgen.club.read import read_club
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step
from docgen.club.yamldoc import Document
from docgen.job.expand import PlacedStep
from docgen.job.simulate import simulate
from tests.proof.orders import StepData, items, needs, off, taken_apart, there_and_back

NOWHERE = Document("", "", None, {}, {})
SHIPPED = [read.value for _, read in sorted(read_club(Path(__file__).resolve().parents[2]).models.items())]


def faults(model: Model, steps: list[StepData]) -> tuple[Fault, ...]:
    placed = [
        PlacedStep("Work", Step.model_validate({"do": "Work.", **step}), NOWHERE, ("steps", i))
        for i, step in enumerate(steps)
    ]
    return simulate(placed, Graph(model), {}).faults


@st.composite
def models(draw: st.DrawFn) -> Model:
    """Any small engine without a circle in it: each item lies behind, is held by, or is part of earlier ones only."""
    parts: dict[str, dict[str, object]] = {}
    fasteners: dict[str, dict[str, object]] = {}
    names: list[str] = []
    for number in range(draw(st.integers(2, 9))):
        behind = draw(st.lists(st.sampled_from(names), max_size=2, unique=True)) if names else []
        if draw(st.booleans()):
            count = draw(st.integers(1, 3))
            entry: dict[str, object] = {"behind": behind, "count": str(count)}
            entry["start_all_first"] = str(count > 1).lower()
            fasteners[f"nut-{number}"] = entry
            names.append(f"nut-{number}")
        else:
            held_by = draw(st.lists(st.sampled_from(sorted(fasteners)), max_size=2, unique=True)) if fasteners else []
            entry = {"behind": behind, "held_by": held_by, "single_use": str(draw(st.booleans())).lower()}
            parts[f"part-{number}"] = entry
            names.append(f"part-{number}")
    return Model.model_validate(
        {"model": "any", "title": "Any", "manual": "Any", "equipment": ["any"], "parts": parts, "fasteners": fasteners}
    )


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Model, list[str]]:
    """An engine, shipped or any, and a valid order in which some of it comes off."""
    model = draw(st.one_of(st.sampled_from(SHIPPED), models()))
    targets = draw(st.lists(st.sampled_from(sorted(items(model))), min_size=1, max_size=3, unique=True))
    return model, taken_apart(model, targets, draw(st.integers(0, 10_000)))


def test_there_are_shipped_models() -> None:
    assert len(SHIPPED) >= 3


@given(jobs())
def test_a_valid_order_is_clean(job: tuple[Model, list[str]]) -> None:
    model, order = job
    assert faults(model, there_and_back(model, order)) == ()


@given(jobs(), st.data())
def test_a_step_left_out_is_found(job: tuple[Model, list[str]], data: st.DataObject) -> None:
    model, order = job
    steps = there_and_back(model, order)
    gone = data.draw(st.integers(0, len(steps) - 1))
    assert faults(model, steps[:gone] + steps[gone + 1 :])


@given(jobs(), st.data())
def test_a_step_done_twice_is_found(job: tuple[Model, list[str]], data: st.DataObject) -> None:
    model, order = job
    steps = there_and_back(model, order)
    twice = data.draw(st.integers(0, len(steps) - 1))
    undone = steps[twice].get("undoes", [])
    assert isinstance(undone, list)
    if not any(getattr(items(model)[name], "releases", "off") == "loose" for name in undone):
        assert faults(model, steps[: twice + 1] + steps[twice:])


@given(jobs(), st.data())
def test_two_steps_off_turned_round_are_found_exactly_when_one_needs_the_other(
    job: tuple[Model, list[str]], data: st.DataObject
) -> None:
    model, order = job
    if len(order) < 2:
        return
    at = data.draw(st.integers(0, len(order) - 2))
    turned = [*order[:at], order[at + 1], order[at], *order[at + 2 :]]
    steps = [off(model, name) for name in turned] + there_and_back(model, order)[len(order) :]
    assert bool(faults(model, steps)) == (order[at] in needs(model, order[at + 1]))


@given(jobs())
def test_put_together_in_the_order_it_came_off_is_found(job: tuple[Model, list[str]]) -> None:
    model, order = job
    if not any(needs(model, name) & set(order) for name in order):
        return
    back = there_and_back(model, list(reversed(order)))[len(order) :]
    assert faults(model, [off(model, name) for name in order] + back)


@pytest.mark.parametrize("model", SHIPPED, ids=lambda model: model.model)
def test_each_shipped_engine_comes_apart_whole_and_goes_together(model: Model) -> None:
    for seed in range(10):
        order = taken_apart(model, sorted(items(model)), seed)
        assert len(order) == len(items(model))
        assert faults(model, there_and_back(model, order)) == ()
