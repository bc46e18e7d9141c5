"""Something is reached for that can only be got at while what it sits in is off the engine."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import VERBS
from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the first thing that is out of reach."""
    for fault in case.faults("bench-only"):
        carrier = case.named(fault.others)
        trail = case.past([c for c in fault.past if c.member in fault.others], fault.step)
        yield case.of(fault, f"{case.subject(fault)} cannot be {VERBS[fault.verb].done}: {carrier} is on the engine",
                      f"take {carrier} off first: this is reached on the bench only",
                      trail or (f"{carrier} did not come off before",))  # fmt: skip
