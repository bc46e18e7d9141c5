"""A row of the bench leaf sends the eye to something and does not say what is good."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow
from docgen.proof.words import english, stems


def on_row(row: TextRow) -> Findings:
    """One finding a row, for the first look of which no word of what is good stands in it."""
    for _, step in row.steps:
        accept = english(step.look.accept) if step.look else ""
        if accept and not stems(accept) & row.stems:
            yield row.finding(f"the look {step.key} stands in this row, and none of '{accept}' is said",
                              "say in a word or two what the eye sees on a good one")
            return
