"""An assembly goes back on the engine while something inside it is off or not tight."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.closed_too_soon import lacking


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that fits the assembly."""
    for fault in case.faults("incomplete"):
        whole = case.subject(fault)
        yield case.of(fault, f"{whole} goes on the engine, but {lacking(case, fault.others)} in it",
                      f"finish {whole} on the bench first: this cannot be reached on the engine",
                      case.past([c for c in fault.past if c.member in fault.others], fault.step))  # fmt: skip
