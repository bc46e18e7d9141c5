"""A row of the bench leaf sends the eye to something and does not say what is good."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered
from docgen.proof.words import english, stems


def on_run(case: Case) -> Iterator[Finding]:
    """One finding a row, for the first look of which no word of what is good stands in it."""
    for row in gathered(case):
        for _, step in row.each:
            accept = english(step.look.accept) if step.look else ""
            if accept and not stems(accept) & row.stems:
                yield row.finding(
                    f"the look {step.key} stands in this row, and none of '{accept}' is said",
                    "say in a word or two what the eye sees on a good one",
                )
                break
