"""A fluid is filled in though it was never let out, or is let out though it is out already."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.fluids import fault_of, since


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the fluid's name."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "twice" and fault.verb == "fills":
            yield fault_of(case, fault, f"{fault.fluid} is filled in here, and it is full already",
                           "let it out before, or fill it once; a drop to top it up is  applies:",
                           since(case, fault, "filled in"))  # fmt: skip
        elif fault.kind == "twice":
            yield fault_of(case, fault, f"{fault.fluid} is let out here, and it is out already",
                           "take one of the two away", since(case, fault, "let out"))  # fmt: skip
