"""A failing check renews a part that cannot be got at any more."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the check."""
    for fault in case.faults("renewal-out-of-reach"):
        name = case.named(fault.members)
        trail = list(case.past(fault.past, fault.step))
        if fault.others:
            trail.append(f"{case.named(fault.others)} in front of it or holding it")
        yield case.of(fault, f"the failing check renews {name}, which is on the engine and stays on",
                      f"check while {name} is off, or let  calls:  name the job that renews it", trail)  # fmt: skip
