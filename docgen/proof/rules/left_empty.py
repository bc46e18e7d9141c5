"""A fluid is let out and never filled in again."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.fluids import fault_of


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where it is let out."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "left-empty":
            yield fault_of(case, fault, f"{fault.fluid} is let out here and never filled in again",
                           f"add a step behind with  fills: [{fault.fluid}]")  # fmt: skip
