"""The crank is turned, or the engine runs, while a cloth, a plug or a tool lies in an opening that leads to it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that turns it."""
    for fault in case.faults("packed-turned"):
        what = " and ".join(dict.fromkeys(change.with_ for change in fault.past))
        turned = f"{case.named(fault.members)} is turned" if fault.members else "the engine runs"
        opening = case.named(fault.others)
        yield case.of(fault, f"{turned} here while {what} lies in the opening of {opening}",
                      f"add a step before with  clears: [{opening.replace(' and ', ', ')}]")  # fmt: skip
