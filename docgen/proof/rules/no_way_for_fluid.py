"""A fluid is let out, or filled in, while nothing is open that it could go through."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.fluids import fault_of


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the fluid's name."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "no-way":
            closed = case.named(fault.members)
            way = "comes out" if fault.verb == "drains" else "goes in"
            yield fault_of(case, fault, f"{fault.fluid} {way} here, but {closed.replace(' and ', ' or ')} must be"
                           " open for it", f"add a step before with  undoes: [{fault.members[0]}]")  # fmt: skip
