"""A part is fitted or renewed that never came off."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that fits it."""
    for fault in case.faults("already-on"):
        names = case.run.graph.named(fault.members)
        name = case.named(fault.members)
        verb = "undoes" if fault.verb == "renews" and not case.run.graph.nodes[fault.members[0]].is_part else "removes"
        trail = case.past(fault.past, fault.step) or (f"{name} did not come off before",)
        yield case.of(fault, f"{name} cannot be {VERBS[fault.verb].done} here: on the engine already",
                      f"add a step before with  {verb}: [{', '.join(names)}]", trail)  # fmt: skip
