"""The engine is started, or something is loaded, while it is not together."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.faults import Fault
from docgen.proof.case import Case
from docgen.proof.finding import Finding
from docgen.proof.rules.closed_too_soon import lacking


def on_run(case: Case) -> Iterator[Finding]:
    """One finding at the step that runs it."""
    for fault in case.faults("run-unfinished"):
        what = "the engine runs here" if fault.verb == "runs" else "this is loaded here"
        yield case.of(fault, f"{what}, but {lacking(case, fault.others)}", _hint(case, fault))


def _hint(case: Case, fault: Fault) -> str:
    """What was forgotten is to be put on; what comes on later only comes too late."""
    closing = ("fits", "renews", "tightens")
    later = {c.member for c in case.run.changes if c.step > fault.step and c.verb in closing}
    never = [m for m in fault.others if m not in later]
    if not never:
        return "do it after the last fastener is tight"
    part = case.run.graph.nodes[never[0]].is_part
    return f"add a step before with  {'fits' if part else 'tightens'}: [{', '.join(case.run.graph.named(never))}]"
