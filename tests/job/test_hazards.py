"""Each safety message before the step where it is needed, each text once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.procedure import SafetyMessage
from docgen.job.hazards import placed, untold
from docgen.job.resolve import resolve

ROOT = Path(__file__).resolve().parents[2]


def message(hazards: str, text: str = "", at: str | None = None) -> SafetyMessage:
    text = text or f"{hazards}."
    return SafetyMessage.model_validate(
        {"word": "warning", "hazards": hazards.split(), "hazard": text, "consequence": "Burns.", "avoid": "Keep away.",
         **({"at": at} if at else {})}
    )  # fmt: skip


def places(messages: list[SafetyMessage], *steps: str) -> dict[int, list[str]]:
    """Step to the messages before it, by their text; step n is called `step-n`."""
    keys, met = [f"step-{n}" for n in range(len(steps))], [frozenset(step.split()) for step in steps]
    return {at: [str(m.hazard) for m in found] for at, found in placed(messages, keys, met).items()}


RUN, HOT, GAS = message("turning noise heat", "It turns."), message("heat", "It is hot."), message("exhaust", "Gas.")


def test_a_message_about_the_run_stays_with_the_run() -> None:
    """The hot pipe comes 60 steps before: another message tells of that, and this one waits."""
    steps = ("", "heat", *[""] * 60, "turning noise heat exhaust")
    assert places([RUN, HOT, GAS], *steps) == {1: ["It is hot."], 62: ["It turns.", "Gas."]}
    assert places([HOT, RUN, GAS], *steps) == {1: ["It is hot."], 62: ["It turns.", "Gas."]}


def test_where_no_other_tells_of_it_it_comes_up() -> None:
    assert places([RUN], "heat", "turning noise") == {0: ["It turns."]}


def test_a_message_waits_for_a_hazard_that_nothing_has_told_of() -> None:
    spray, skin = message("solvent fumes", "Spray."), message("skin fumes", "Skin.")
    assert places([spray, skin], "fumes solvent", "fumes", "skin") == {0: ["Spray."], 2: ["Skin."]}
    # What another has told of in full is left out, as is what this model never meets.
    assert places([spray, message("fumes", "Air.")], "solvent fumes", "fumes") == {0: ["Spray."]}
    assert places([message("pinch")], "fumes") == {}


def test_a_step_with_several_hazards_gets_all_that_it_needs_in_the_order_of_the_file() -> None:
    messages = [message("skin eyes", "Skin."), message("solvent fumes", "Spray."), message("pressure eyes", "Air.")]
    assert places(messages, "solvent fumes skin eyes", "pressure eyes") == {0: ["Skin.", "Spray."], 1: ["Air."]}


def test_the_step_that_a_message_names_comes_first() -> None:
    clip, hook = message("spring", "Clip.", at="step-2"), message("spring", "Hook.", at="step-1")
    assert places([clip, hook], "", "spring", "spring") == {1: ["Hook."], 2: ["Clip."]}
    # It tells of its hazards from there on; before, somebody else has to.
    steps = [frozenset(), frozenset({"spring"}), frozenset({"spring"})]
    keys = ["step-0", "step-1", "step-2"]
    assert list(untold(placed([clip], keys, steps), steps)) == [(1, frozenset({"spring"}))]
    # A step that this model does not have: its hazards find the place.
    assert places([message("spring", "Clip.", at="elsewhere")], "", "spring") == {1: ["Clip."]}
    tied = {"word": "notice", "hazard": "A.", "consequence": "B.", "avoid": "C.", "at": "elsewhere"}
    assert places([SafetyMessage.model_validate(tied)], "spring") == {}


def test_the_same_text_stands_once() -> None:
    same = message("fuel", "Fuel burns."), message("fuel fumes", "Fuel burns.")
    assert places(list(same), "fuel", "fumes") == {0: ["Fuel burns."]}
    early, late = message("fuel", "Fuel burns.", at="step-1"), message("fuel", "Fuel burns.", at="step-2")
    assert places([late, early], "", "", "") == {1: ["Fuel burns."]}


@pytest.mark.parametrize("engine", ["017", "042", "060"])
def test_no_shipped_job_says_a_thing_twice_and_none_runs_without_a_word_of_the_gas(engine: str) -> None:
    folder = read_club(ROOT)
    record = folder.engines[engine]
    runs = 0
    for procedure in folder.for_model(folder.models[record.engine.model].value):
        job = resolve(folder, record, folder.procedures[procedure.procedure], date(2027, 2, 20)).instructions
        said = [(m.hazard, m.avoid) for step in job.steps for m in step.messages]
        assert len(said) == len(set(said)), procedure.procedure
        told: set[str] = set()
        for step in job.steps:
            told |= {hazard for m in step.messages for hazard in m.hazards}
            if step.text.startswith(("Start the engine", "Start again", "Roll the kart outdoors")):
                runs += 1
                assert "exhaust" in told, (procedure.procedure, step.text)
        about_gas = [m.avoid for step in job.steps for m in step.messages if "exhaust" in m.hazards]
        assert all("outdoors" in avoid for avoid in about_gas), procedure.procedure
    assert runs > 10
