"""A step meets a hazard before any safety message has told of it."""

from docgen.job.hazards import placed, spots, untold
from docgen.proof.case import Case, Findings

TOLD = (
    "fuel", "solvent", "heat", "current", "spring", "turning", "pressure", "fumes", "exhaust", "eyes", "skin", "pinch",
    "sharp", "weight", "noise",
)  # fmt: skip
"""The order in which a finding names them."""


def on_run(case: Case) -> Findings:
    """One finding at the first step that meets hazards without a message; all of its untold hazards together."""
    steps = spots(case.run.steps, case.model.value, case.club.value)
    places = placed(case.messages, steps)
    for index, missing in untold(places, steps):
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
