"""A fastener is undone and never tightened again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where the fastener was last touched."""
    for fault in case.faults("left-undone"):
        name = case.named(fault.members)
        yield case.of(fault, f"{name}: {VERBS[fault.verb].done} here and never tightened",
                      f"add a step with  tightens: [{name}]", trail=())  # fmt: skip
