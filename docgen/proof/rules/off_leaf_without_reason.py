"""A step kept off the bench leaf without a reason that the next author could judge."""

from docgen.proof.case import Findings, Written
from docgen.proof.rules.hold_without_reason import no_reason


def on_steps(file: Written) -> Findings:
    """One finding at the reason."""
    for loc, step in file.steps:
        if no_reason(step.off_leaf or ""):
            yield file.finding((*loc, "off_leaf"),
                               f"this step is kept off the bench leaf, and '{step.off_leaf}' is no reason",
                               "say what makes it safe to leave out at the bench")  # fmt: skip
