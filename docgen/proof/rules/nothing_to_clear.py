"""A cloth or a plug comes out of an opening that nothing was put into: the step that puts it in is missing."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.places import place_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the opening's name."""
    for fault in place_faults(case.run, case.model.value.limits):
        if fault.kind == "nothing-in":
            yield case.finding(fault.step, fault.at, f"nothing was put into the opening of {fault.what} before",
                               f"add a step before with  packs: {{{fault.what}: ...}}, or take this away")  # fmt: skip
