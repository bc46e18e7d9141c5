"""A new part is taken twice."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the second time."""
    for fault in case.faults("already-new"):
        yield case.of(fault, f"{case.named(fault.members)}: a new one was taken before", "take one of the two out")
