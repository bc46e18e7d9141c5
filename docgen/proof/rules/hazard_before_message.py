"""A step meets a hazard before any safety message has told of it."""

from docgen.job.hazards import met, placed, untold
from docgen.job.stepmarks import step_key
from docgen.proof.case import Case, Findings

TOLD = (
    "fuel", "solvent", "heat", "current", "spring", "turning", "pressure", "fumes", "exhaust", "eyes", "skin", "pinch",
    "sharp", "weight", "noise",
)  # fmt: skip
"""The order in which a finding names them."""


def on_run(case: Case) -> Findings:
    """One finding at the first step that meets hazards without a message; all of its untold hazards together."""
    keys = [step_key(step, index + 1) for index, step in case.steps]
    hazards = [met(step, case.model.value, case.club.value) for _, step in case.steps]
    places = placed([one.message for one in case.messages], keys, hazards)
    for index, missing in untold(places, hazards):
        named = [hazard for hazard in TOLD if hazard in missing]
        trail = [
            f"a message about {hazard} stands only at {case.step_line(later, index)}"
            for hazard in named
            for later, messages in sorted(places.items())
            if later > index and any(hazard in message.hazards for message in messages)
        ]
        names = ", ".join(named)
        yield case.finding(index, ("do",), f"this step meets {names} before any message about it",
                           f"add a message under  safety:  with  hazards: [{names}]", trail)  # fmt: skip
