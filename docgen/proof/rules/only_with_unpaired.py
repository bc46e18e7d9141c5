"""A job that is sound with a piece of equipment and unsound without it: `only_with` stands at one end only."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.bench.faults import Fault
from docgen.job.simulate import Run
from docgen.proof.case import Case, place
from docgen.proof.finding import Finding
from docgen.proof.ways import ways_without


def on_run(case: Case) -> Iterator[Finding]:
    """One finding for each piece of equipment, at the first step that goes wrong without it."""
    known = {_same(case.run, fault) for fault in case.run.faults}
    model, graph = case.model.value, case.run.graph
    for equipment, run in ways_without(case.optional, case.procedure, case.sequences, model, graph):
        for fault in run.faults:
            if _same(run, fault) not in known:
                yield _finding(run, fault, equipment)
                break


def _finding(run: Run, fault: Fault, equipment: str) -> Finding:
    placed = run.steps[fault.step]
    names = ", ".join(run.graph.named((*fault.members, *fault.others)))
    message = f"on an engine without {equipment}, this goes wrong: {names} ({fault.kind.replace('-', ' ')})"
    hint = f"write  only_with: [{equipment}]  at both ends of the work, or at neither"
    return Finding(placed.document, (*placed.loc, *place(fault.verb, fault.at)), message, hint)


def _same(run: Run, fault: Fault) -> tuple[object, ...]:
    placed = run.steps[fault.step]
    return (fault.kind, placed.document.path, placed.loc, fault.verb, fault.at)
