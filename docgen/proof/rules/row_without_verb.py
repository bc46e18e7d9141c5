"""A row of the bench leaf that does not begin with what the hands do."""

from docgen.proof.case import Findings, Written
from docgen.proof.rules.row_begins_optional import steps_of
from docgen.proof.verbs import begins_row
from docgen.proof.words import english


def on_steps(file: Written) -> Findings:
    """One finding at the row."""
    for loc, step in steps_of(file):
        row = english(step.row)
        if row and not begins_row(row):
            word = row.split()[0].strip(",")
            yield file.finding((*loc, "row"), f"this row begins with '{word}', which is not a verb of the bench",
                               "begin with what the hands do, without articles: Slide inner washer on")  # fmt: skip
