"""A part comes off while fasteners still hold it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import is_are


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that takes it off."""
    for fault in case.faults("held"):
        names = case.run.graph.named(fault.others)
        holding = case.named(fault.others)
        trail = case.past(fault.past, fault.step) or (f"{holding} {"was" if is_are(names) == "is" else "were"} not undone before",)
        hold = "holds" if is_are(names) == "is" else "hold"
        yield case.of(fault, f"{case.subject(fault)} cannot come off: {holding} still {hold} it",
                      f"add a step before with  undoes: [{', '.join(names)}]", trail)  # fmt: skip
