"""A used single-use part goes on again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that fits it."""
    for fault in case.faults("used-again"):
        names = case.run.graph.named(fault.members)
        name = case.named(fault.members)
        part = case.run.graph.nodes[fault.members[0]].is_part
        hint = f"write  renews: [{', '.join(names)}]  instead of {fault.verb}" if part else (
            f"add a step before with  renews: [{', '.join(names)}]")  # fmt: skip
        yield case.of(fault, f"{name} goes on again, but the model says that it serves once", hint)
