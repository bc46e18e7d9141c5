"""One of a group is tightened before all of the group are started by hand."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that tightens."""
    for fault in case.faults("not-all-started"):
        group = case.run.graph.nodes[fault.members[0]].item
        waiting = case.named(fault.members)
        message = f"{group}: tightened before all of them are started by hand"
        trail = (f"{waiting} not started",) if waiting != group else ()
        yield case.of(fault, message, f"add a step before with  starts: [{group}]",
                      [*case.past(fault.past, fault.step), *trail])  # fmt: skip
