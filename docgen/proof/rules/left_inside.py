"""A cloth, a plug or a tool is put into an opening and never taken out again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where it was put in."""
    for fault in case.faults("packed-left"):
        name = case.named(fault.members)
        yield case.of(fault, f"{fault.past[0].with_} goes into the opening of {name} here and never comes out",
                      f"add a step with  clears: [{name}]", trail=())  # fmt: skip
