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
        holding, one = case.named(fault.others), is_are(names) == "is"
        trail = case.past(fault.past, fault.step) or (f"{holding} {'was' if one else 'were'} not undone before",)
        message = f"{case.subject(fault)} cannot come off: {holding} still {'holds' if one else 'hold'} it"
        yield case.of(fault, message, f"add a step before with  undoes: [{', '.join(names)}]", trail)
