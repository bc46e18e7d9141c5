"""A step meets a hazard before any safety message has told of it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.hazards import met
from docgen.job.stepmarks import step_key
from docgen.proof.case import Case
from docgen.proof.finding import Finding

TOLD = (
    "fuel", "solvent", "heat", "current", "spring", "turning", "pressure", "fumes", "eyes", "skin", "pinch", "sharp",
    "weight", "noise",
)  # fmt: skip


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the first step that meets hazards without a message; all of its untold hazards together."""
    keys = {step_key(step, index + 1): index for index, step in reversed(list(case.steps))}
    told_from: dict[str, int] = {}
    for placed in case.messages:
        message = placed.message
        if message.at and message.at not in keys:
            continue
        start = keys[message.at] if message.at else 0
        for hazard in message.hazards:
            told_from[hazard] = min(start, told_from.get(hazard, start))
    for index, step in case.steps:
        hazards = met(step, case.model.value, case.club.value)
        if not hazards:
            continue
        untold = [h for h in TOLD if h in hazards and told_from.get(h, index + 1) > index]
        if untold:
            later = [h for h in untold if h in told_from]
            trail = [f"a message about {h} stands only at {case.step_line(told_from[h], index)}" for h in later]
            names = ", ".join(untold)
            yield case.finding(
                index, ("do",), f"this step meets {names} before any message about it",
                f"add a message under  safety:  with  hazards: [{names}]", trail,
            )  # fmt: skip
            told_from.update(dict.fromkeys(untold, 0))
