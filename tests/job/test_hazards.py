"""Each safety message before the step where it is needed, each text once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.club.schema.procedure import SafetyMessage
from docgen.club.yamldoc import Document
from docgen.job.expand import Placed
from docgen.job.hazards import Spot, placed, untold
from docgen.job.resolve import resolve
from docgen.visit.grouping import visit
from docgen.visit.job import in_one_visit, visit_job

ROOT = Path(__file__).resolve().parents[2]
DOCUMENT = Document("made.yaml", "", {}, {}, {})


def message(hazards: str, text: str = "", at: str | None = None, word: str = "warning") -> SafetyMessage:
    text = text or f"{hazards}."
    return SafetyMessage.model_validate(
        {"word": word, "hazards": hazards.split(), "hazard": text, "consequence": "Burns.", "avoid": "Keep away.",
         **({"at": at} if at else {})}
    )  # fmt: skip


def spot(n: int, text: str) -> Spot:
    """A step called `step-n`, of its stage and what it meets: `Stage: heat`; `!` starts the engine, what stands in
    brackets comes from a material."""
    stage, _, told = text.rpartition(": ")
    hazards = [one.strip("()!") for one in told.split()]
    borne = [one.strip("()") for one in told.split() if one.startswith("(")]
    return Spot(f"step-{n}", frozenset(hazards), frozenset(borne), frozenset(), stage, told.endswith("!"))


def places(messages: list[SafetyMessage], *steps: str) -> dict[int, list[str]]:
    """Step to the messages before it, by their text."""
    said = [Placed(one, DOCUMENT, ()) for one in messages]
    found = placed(said, [spot(n, step) for n, step in enumerate(steps)])
    return {at: [str(one.hazard) for one in here] for at, here in found.items()}


RUN, HOT, GAS = message("turning noise heat", "It turns."), message("heat", "It is hot."), message("exhaust", "Gas.")


def test_a_message_about_the_run_stays_with_the_run() -> None:
    """The hot pipe comes 60 steps before: another message tells of that, and this one waits."""
    steps = ("", "heat", *[""] * 60, "turning noise heat exhaust")
    assert places([RUN, HOT, GAS], *steps) == {1: ["It is hot."], 62: ["It turns.", "Gas."]}
    assert places([HOT, RUN, GAS], *steps) == {1: ["It is hot."], 62: ["It turns.", "Gas."]}


def test_where_no_other_tells_of_it_it_comes_up() -> None:
    assert places([RUN], "heat", "turning noise") == {0: ["It turns."]}


def test_a_message_waits_for_a_hazard_that_nothing_has_told_of() -> None:
    spray, pinch = message("solvent fumes", "Spray."), message("pinch fumes", "Pinch.")
    assert places([spray, pinch], "fumes solvent", "fumes", "pinch") == {0: ["Spray."], 2: ["Pinch."]}
    # What another has told of in full is left out, as is what this model never meets.
    assert places([spray, message("fumes", "Air.")], "solvent fumes", "fumes") == {0: ["Spray."]}
    assert places([message("pinch")], "fumes") == {}


def test_a_step_with_several_hazards_gets_all_that_it_needs() -> None:
    messages = [message("skin eyes", "Skin."), message("solvent fumes", "Spray."), message("pressure eyes", "Air.")]
    assert places(messages, "solvent fumes (skin) (eyes)", "pressure eyes") == {0: ["Skin.", "Spray."], 1: ["Air."]}


def test_the_step_that_a_message_names_comes_first() -> None:
    clip, hook = message("spring", "Clip.", at="step-2"), message("spring", "Hook.", at="step-1")
    assert places([clip, hook], "", "spring", "spring") == {1: ["Hook."], 2: ["Clip."]}
    # It tells of its hazards from there on; before, somebody else has to.
    steps = [spot(n, text) for n, text in enumerate(("", "spring", "spring"))]
    assert list(untold(placed([Placed(clip, DOCUMENT, ())], steps), steps)) == [(1, frozenset({"spring"}))]
    # A step that this model does not have: its hazards find the place.
    assert places([message("spring", "Clip.", at="elsewhere")], "", "spring") == {1: ["Clip."]}
    tied = {"word": "notice", "hazard": "A.", "consequence": "B.", "avoid": "C.", "at": "elsewhere"}
    assert places([SafetyMessage.model_validate(tied)], "spring") == {}


def test_the_same_text_stands_once() -> None:
    same = message("fuel", "Fuel burns."), message("fuel fumes", "Fuel burns.")
    assert places(list(same), "fuel", "fumes") == {0: ["Fuel burns."]}


def test_it_stands_again_in_each_stage_that_meets_the_hazard() -> None:
    steps = ("A: fumes", "A: fumes", "B: ", "B: fumes", "C: fumes")
    assert places([message("fumes", "Spray.")], *steps) == {0: ["Spray."], 3: ["Spray."], 4: ["Spray."]}
    clip = message("spring", "Clip.", at="step-0")
    assert places([clip], "A: spring", "B: spring") == {0: ["Clip."], 1: ["Clip."]}


def test_it_stands_before_every_start_and_the_gravest_stands_first() -> None:
    notice, gas = message("noise", "Blip.", word="notice"), message("exhaust", "Gas.", word="danger")
    turns = message("turning heat", "It turns.")
    steps = ("A: turning heat exhaust noise!", "A: turning", "A: turning heat exhaust!", "A: turning!")
    assert places([notice, turns, gas], *steps) == {
        0: ["Gas.", "It turns.", "Blip."], 2: ["Gas.", "It turns."], 3: ["It turns."],
    }  # fmt: skip


def test_what_speaks_of_a_material_stands_where_one_is_used() -> None:
    gloves, air = message("skin eyes", "Gloves."), message("pressure", "Air.")
    assert places([gloves, air], "pressure eyes", "(skin)") == {0: ["Air."], 1: ["Gloves."]}
    cleaner = message("solvent fumes skin eyes", "Cleaner.")
    assert places([cleaner], "(skin)", "(solvent) (fumes) (skin)") == {1: ["Cleaner."]}


def test_a_step_of_a_visit_is_told_of_by_its_own_job() -> None:
    said = [Placed(message("pressure eyes", "Air."), DOCUMENT, (), ("plug",)),
            Placed(message("eyes pressure", "Jet."), DOCUMENT, (), ("carburettor",))]  # fmt: skip
    steps = [Spot("a", frozenset({"pressure"}), stage="A", jobs=("plug",)),
             Spot("b", frozenset({"pressure"}), stage="B", jobs=("carburettor", "plug")),
             Spot("c", frozenset({"pressure"}), stage="C", jobs=("carburettor",)),
             Spot("d", frozenset(), stage="D", jobs=("carburettor",)),
             Spot("e", frozenset({"pressure"}), stage="E", jobs=("carburettor",))]  # fmt: skip
    found = {at: [str(one.hazard) for one in here] for at, here in placed(said, steps).items()}
    assert found == {0: ["Air."], 4: ["Jet."]}  # from a to c the work goes on


STARTS = ("Start the engine", "Start again", "Roll the kart outdoors", "Crank ")


@pytest.mark.parametrize("engine", ["017", "042", "060"])
def test_no_row_says_a_thing_twice_and_every_start_has_its_word(engine: str) -> None:
    folder, on = read_club(ROOT), date(2027, 2, 20)
    record = folder.engines[engine]
    reads = [folder.procedures[one.procedure] for one in folder.for_model(folder.models[record.engine.model].value)]
    jobs = [resolve(folder, record, read, on) for read in reads]
    found = visit(folder, record, in_one_visit(folder, record, [folder.procedures["pre-season"]]), on)
    starts = 0
    for job in (*jobs, visit_job(folder, record, found, on)):
        told = job.instructions
        for stage in told.stages:
            for row in stage.rows:
                said = [(one.word, one.line) for one in row.messages]
                assert len(said) == len(set(said)), (told.procedure, row.line)
                words = [word for word, _ in said]
                assert words == sorted(words, key=("danger", "warning", "caution", "notice").index)
        for step in told.steps:
            if step.text.startswith(STARTS):
                starts += 1
                here = {hazard for one in step.messages for hazard in one.hazards}
                assert "turning" in here, (told.procedure, step.text)
                assert ("exhaust" in here) is not step.text.startswith("Crank"), (told.procedure, step.text)
        about_gas = [one.avoid for step in told.steps for one in step.messages if "exhaust" in one.hazards]
        assert all("outdoors" in avoid for avoid in about_gas), told.procedure
    assert starts > 12
