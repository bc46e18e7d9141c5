"""A fastener is gone over again that was not tightened before."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that says `again`."""
    for fault in case.faults("not-yet-tight"):
        name = case.named(fault.members)
        yield case.of(fault, f"{name}: tightened again here, but not tight before",
                      f"add a step before with  tightens: [{name}], or take  again: true  away")  # fmt: skip
