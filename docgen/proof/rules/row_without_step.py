"""A step is gathered into a row of the bench leaf that has no word of it: whoever works from the leaf forgets it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered
from docgen.proof.words import english, stems


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at each such step."""
    for row in gathered(case):
        for index, step in row.each:
            text = english(step.do)
            if text and not stems(text) & row.stems:
                yield case.finding(
                    index, ("do",), f"this step stands in the row '{row.line}', which has no word of it",
                    "add to the row what is to be done (adds: ...), or say why the leaf needs it not (off_leaf: ...)",
                )  # fmt: skip
