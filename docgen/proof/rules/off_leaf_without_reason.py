"""A step kept off the bench leaf without a reason that the next author could judge."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.rules.hold_without_reason import EMPTY, FEWEST
from docgen.proof.words import words


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the reason."""
    for loc, step in file.steps:
        why = step.off_leaf or ""
        said = words(why)
        if why and (len(said) < FEWEST or (EMPTY.search(why) and len(said) < 2 * FEWEST)):
            yield file.finding(
                (*loc, "off_leaf"), f"this step is kept off the bench leaf, and '{why}' is no reason",
                "say what makes it safe to leave out at the bench",
            )  # fmt: skip
