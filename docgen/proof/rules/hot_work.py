"""Hands on a hot engine: hot parts are worked on without a wait to cool."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.job.simulation.state import Change
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import DONE

COLD = re.compile(r"\bcold\b|\bcooled\b", re.IGNORECASE)


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the first hot part. `before:` may say that the engine is cold when the job begins."""
    cold_start = any(COLD.search(text) for text in case.procedure.value.before)
    hot = "" if cold_start else "nothing says that the engine is cold when the job begins"
    for index, step in case.steps:
        touched = [c for c in case.run.by_step[index] if c.verb in DONE and _is_hot(case, c)]
        if hot and touched:
            name = case.named([touched[0].member])
            yield case.finding(
                index, (touched[0].verb, touched[0].at), f"{name} may be hot here: {hot}",
                "add a step before with  wait: {for: ..., cools: true}, or say in  before:  that the engine is cold",
            )  # fmt: skip
            hot = ""
        if step.runs:
            hot = f"the engine ran at {case.step_line(index, index)}, and no wait to cool follows"
        if step.wait and step.wait.cools and hot:
            needed = case.model.value.cool_down
            hot = "" if needed is None or step.wait.for_ >= needed else (
                f"the wait at {case.step_line(index, index)} is {step.wait.for_}, the model wants {needed}"
            )  # fmt: skip


def _is_hot(case: Case, change: Change) -> bool:
    step = case.run.steps[change.step].step
    return "heat" in case.run.graph.nodes[change.member].spec.hazards or "heat" in step.meets
