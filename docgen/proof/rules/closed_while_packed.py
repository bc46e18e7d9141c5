"""An opening is closed while a cloth, a plug or a tool still lies in it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.words import DONE


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that closes it."""
    for fault in case.faults("packed-closed"):
        name, what = case.named(fault.members), fault.past[0].with_
        yield case.of(fault, f"{name} is {DONE[fault.verb]} while {what} still lies in its opening",
                      f"add a step before with  clears: [{name}]")  # fmt: skip
