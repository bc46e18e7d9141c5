"""A cloth or a plug goes into an opening while what closes it, or lies in front of it, is still on."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.job.simulation.places import place_faults
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import is_are


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the opening's name. An opening is named by what closes it, or by the part whose mouth it is."""
    for fault in place_faults(case.run, case.model.value.limits):
        if fault.kind == "closed":
            what = case.run.steps[fault.step].step.packs[fault.what]
            names = case.run.graph.named(fault.members)
            yield case.finding(fault.step, fault.at, f"{what} cannot go into the opening of {fault.what} here:"
                               f" {case.named(fault.members)} {is_are(names)} still on",
                               "put it in when that is off")  # fmt: skip
