"""The engine runs without its oil, its water or its fuel: it was let out and not filled in."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.fluids import fault_of, since


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that runs it."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "run-dry":
            hint = f"add a step before with  fills: [{fault.fluid}]"
            message = f"the engine runs here without {fault.fluid}"
            yield fault_of(case, fault, message, hint, since(case, fault, "let out"))
