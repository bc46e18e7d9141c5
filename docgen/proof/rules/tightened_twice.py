"""A fastener is started or tightened that is tight already."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the second time."""
    for fault in case.faults("already-tight"):
        name = case.named(fault.members)
        trail = case.past(fault.past, fault.step) or (f"{name} was never undone",)
        hint = "undo it before, or write  again: true  where a tight one is gone over once more"
        yield case.of(fault, f"{name} cannot be {VERBS[fault.verb].done} here: done up already", hint, trail)
