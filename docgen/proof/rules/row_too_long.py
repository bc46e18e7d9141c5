"""A row of the bench leaf that is too long to be taken in at a glance."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered

MOST = 110
"""Letters of a row, about three lines. Common practice, no source."""


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the row."""
    for row in gathered(case):
        if len(row.line) > MOST:
            yield row.finding(
                f"this row has {len(row.line)} letters, and {MOST} are read at a glance",
                "leave out what the figures at its right say already, or let it be two rows",
            )
