"""A part comes off and never goes on again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where the part came off."""
    for fault in case.faults("left-off"):
        name = case.named(fault.members)
        yield case.of(fault, f"{name} comes off here and is never fitted again",
                      f"add a step that fits or renews {name}", trail=())  # fmt: skip
