"""What holds a fluid in comes off while it is full, and the step lets nothing out: it runs over bench and hands."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.fluids import fluid_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding where it comes off."""
    for fault in fluid_faults(case.run, case.model.value.fluids):
        if fault.kind == "runs-out" and fault.change:
            yield case.finding(
                fault.step, (fault.change.verb, fault.change.at),
                f"{fault.fluid} runs out as {case.named(fault.members)} comes off: it was not let out before",
                f"write  drains: [{fault.fluid}]  in this step or the next, or let it out before",
            )  # fmt: skip
