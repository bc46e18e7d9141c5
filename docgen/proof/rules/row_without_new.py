"""A row of the bench leaf gathers a renewal and does not say that the part is new."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered

NEW = frozenset({"new", "renew", "fresh"})


def on_run(case: Case) -> Iterator[Finding]:
    """One finding a row."""
    for row in gathered(case):
        renewed = [name for _, step in row.each for name in step.renews]
        if renewed and not NEW & row.stems:
            yield row.finding(
                f"a step of this row renews {case.named(case.run.graph.each(renewed))}, and the row does not say new",
                "say that it is new: the old one lies in the tray beside it",
            )
