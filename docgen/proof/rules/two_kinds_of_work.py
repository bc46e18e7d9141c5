"""A step with two kinds of assembly work: one box cannot be ticked for both."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Written
from docgen.proof.finding import Finding


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the second verb."""
    for loc, step in file.steps:
        kinds = [verb.key for verb in step.verbs if verb.moves]
        if len(kinds) > 1 and kinds != ["undoes", "removes"]:
            said = " and ".join((", ".join(kinds[:-1]), kinds[-1]))
            yield file.finding((*loc, kinds[1]), f"one step {said}", "make a step of each, in the order of the work",
                               key=True)  # fmt: skip
