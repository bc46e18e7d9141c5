"""A step is gathered into a row of the bench leaf that has no word of it: whoever works from the leaf forgets it."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow
from docgen.proof.words import english, stems


def on_row(row: TextRow) -> Findings:
    """One finding at each such step."""
    for index, step in row.steps:
        text = english(step.do)
        if text and not stems(text) & row.stems:
            yield row.case.finding(
                index, ("do",), f"this step stands in the row '{row.line}', which has no word of it",
                "add to the row what is to be done (adds: ...), or say why the leaf needs it not (off_leaf: ...)",
            )  # fmt: skip
