"""A hold point whose reason says nothing: nobody waits for a second pair of eyes without knowing why."""

import re

from docgen.proof.case import Findings, Written
from docgen.proof.words import english, words

EMPTY = re.compile(r"\b(important|critical|required|mandatory|safety|safe|policy|procedure|rules?|must)\b", re.I)
FEWEST = 4


def on_steps(file: Written) -> Findings:
    """One finding at the reason."""
    for loc, step in file.steps:
        if step.hold and no_reason(english(step.hold.why)):
            yield file.finding((*loc, "hold"), f"'{step.hold.why}' is no reason to stop for",
                               "say what breaks, or who is hurt, when this is wrong")  # fmt: skip


def no_reason(text: str) -> bool:
    """Whether a text that is to be a reason says nothing; no text at all is for other rules."""
    count = len(words(text))
    return bool(text) and (count < FEWEST or bool(EMPTY.search(text) and count < 2 * FEWEST))
