"""A step put on the short card, or left off it, without a reason that the next author could judge."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.rules.hold_without_reason import EMPTY, FEWEST
from docgen.proof.words import words


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the choice."""
    for loc, step in file.steps:
        if step.card is None:
            continue
        why = step.card.why or ""
        said = words(why)
        if len(said) < FEWEST or (EMPTY.search(why) and len(said) < 2 * FEWEST):
            done = "put on" if step.card.put == "on" else "left off"
            told = f"'{why}' is no reason" if why else "no reason is given"
            yield file.finding(
                (*loc, "card"), f"this step is {done} the short card, and {told}",
                f"write  card: {{put: {step.card.put}, why: ...}}  and say what breaks, or who is hurt",
            )  # fmt: skip
