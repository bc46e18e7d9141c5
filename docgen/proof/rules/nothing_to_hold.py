"""A fastener is done up while what it holds is off."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.closed_too_soon import lacking


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that does it up."""
    for fault in case.faults("nothing-to-hold"):
        yield case.of(fault, f"{case.subject(fault)}: {VERBS[fault.verb].done}, but {lacking(case, fault.others)}",
                      f"fit {case.named(fault.others)} first",
                      case.past([c for c in fault.past if c.member in fault.others], fault.step))  # fmt: skip
