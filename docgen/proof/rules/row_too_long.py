"""A row of the bench leaf that is too long to be taken in at a glance."""

from docgen.proof.case import Findings
from docgen.proof.texts import TextRow

MOST = 110
"""Letters of a row, about three lines. Common practice, no source."""


def on_row(row: TextRow) -> Findings:
    """One finding at the row."""
    if len(row.line) > MOST:
        yield row.finding(f"this row has {len(row.line)} letters, and {MOST} are read at a glance",
                          "leave out what the figures at its right say already, or let it be two rows")
