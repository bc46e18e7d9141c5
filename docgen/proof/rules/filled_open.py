"""A fluid is filled in while its drain is still open."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.job.wording import listed
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.fluids import fault_of
from docgen.proof.words import is_are


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the fluid's name."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "filled-open":
            names = case.run.graph.named(fault.members)
            past = [c for c in case.run.changes if c.member in fault.members and c.step <= fault.step]
            yield fault_of(case, fault, f"{fault.fluid} is filled in here, and {listed(list(names))} {is_are(names)}"
                           " still open", "close and tighten it before", case.past(past[-1:], fault.step))  # fmt: skip
