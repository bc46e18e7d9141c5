"""A hold point whose reason says nothing: nobody waits for a second pair of eyes without knowing why."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.words import english, words

EMPTY = re.compile(r"\b(important|critical|required|mandatory|safety|safe|policy|procedure|rules?|must)\b", re.I)
FEWEST = 4


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the reason."""
    for loc, step in file.steps:
        if step.hold and english(step.hold.why):
            said = words(step.hold.why)
            if len(said) < FEWEST or (EMPTY.search(step.hold.why) and len(said) < 2 * FEWEST):
                yield file.finding((*loc, "hold"), f"'{step.hold.why}' is no reason to stop for",
                                   "say what breaks, or who is hurt, when this is wrong")  # fmt: skip
