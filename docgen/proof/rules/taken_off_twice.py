"""Something is undone or taken off that is off already."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the second time."""
    for fault in case.faults("already-off"):
        name = case.named(fault.members)
        yield case.of(fault, f"{name} cannot be {VERBS[fault.verb].done} here: off already",
                      "take this out, or put it back on before")  # fmt: skip
