"""The engine is started, or something is loaded, while it is not together."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.closed_too_soon import lacking


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that runs it."""
    for fault in case.faults("run-unfinished"):
        what = "the engine runs here" if fault.verb == "runs" else "this is loaded here"
        hint = "do it after the last fastener is tight"
        yield case.of(fault, f"{what}, but {lacking(case, fault.others)}", hint)
