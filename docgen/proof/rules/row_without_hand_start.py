"""A row of the bench leaf does not say that its fasteners are started by hand, all of them, before any is tightened."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.leafrows import gathered

BY_HAND = frozenset({"hand", "finger", "start"})


def on_run(case: Case) -> Iterator[Finding]:
    """One finding a row."""
    for row in gathered(case):
        started = [name for _, step in row.each for name in step.starts]
        if started and not BY_HAND & row.stems:
            yield row.finding(
                f"a step of this row starts {case.named(case.run.graph.each(started))} by hand, and it does not say so",
                "say by hand: tightened one by one from off, the last ones no longer find their holes",
            )
