"""Hands or sprays on a hot engine: hot parts are worked on, or what burns goes on, without a wait to cool."""

import re

from docgen.club.bench.state import Change
from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case, Findings

BURNS = frozenset({"fuel", "solvent"})
"""Hazards of what catches fire on a hot engine."""
COLD = re.compile(r"\bcold\b|\bcooled\b", re.IGNORECASE)


def on_run(case: Case) -> Findings:
    """One finding at the first hot part. `before:` may say that the engine is cold when the job begins; for what burns
    only a run in the job itself makes it hot."""
    cold_start = any(COLD.search(text) for text in case.procedure.value.before)
    unsaid = "nothing says that the engine is cold when the job begins"
    hot = "" if cold_start else unsaid
    for index, step in case.steps:
        touched = [c for c in case.run.by_step[index] if VERBS[c.verb].done and _is_hot(case, c)]
        if hot and touched:
            yield case.at(
                touched[0], f"{case.named([touched[0].member])} may be hot here: {hot}",
                "add a step before with  wait: {for: ..., cools: true}, or say in  before:  that the engine is cold",
            )  # fmt: skip
            hot = ""
        spray = _burning(case, index) if hot and hot != unsaid else None
        if spray:
            verb, at, material = spray
            yield case.finding(index, (verb, at), f"{material} goes onto the hot engine here: {hot}",
                               "add a step before with  wait: {for: ..., cools: true}")  # fmt: skip
            hot = ""
        if step.runs:
            hot = f"the engine ran at {case.step_line(index, index)}, and no wait to cool follows"
        if step.wait and step.wait.cools and hot:
            needed = case.model.value.cool_down
            hot = "" if needed is None or step.wait.for_ >= needed else (
                f"the wait at {case.step_line(index, index)} is {step.wait.for_}, the model wants {needed}"
            )  # fmt: skip


def _burning(case: Case, index: int) -> tuple[str, str, str] | None:
    """The first material that burns and goes onto the engine in a step: verb, key below it, material."""
    step, register = case.run.steps[index].step, case.club.value.materials
    used: list[tuple[str, str, str]] = [("cleans", part, c.material) for part, c in step.cleans.items() if c.material]
    used += [("applies", material, material) for material, use in step.applies.items() if use.to]
    return next((one for one in used if one[2] in register and BURNS & set(register[one[2]].hazards)), None)


def _is_hot(case: Case, change: Change) -> bool:
    step = case.run.steps[change.step].step
    return "heat" in case.run.graph.nodes[change.member].spec.hazards or "heat" in step.meets
