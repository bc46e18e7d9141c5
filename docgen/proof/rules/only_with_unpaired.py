"""A job that is sound with a piece of equipment and unsound without it: `only_with` stands at one end only."""

from docgen.club.bench.faults import Fault
from docgen.job.simulate import Run
from docgen.proof.case import Case, Finding, Findings, place
from docgen.proof.ways import ways_without


def on_run(case: Case) -> Findings:
    """One finding for each piece of equipment, at the first step that goes wrong without it."""
    known = {_same(case.run, fault) for fault in case.run.faults}
    model, graph = case.model.value, case.run.graph
    for equipment, run in ways_without(case.optional, case.procedure, case.sequences, model, graph):
        for fault in run.faults:
            if _same(run, fault) not in known:
                placed, names = run.steps[fault.step], run.graph.named((*fault.members, *fault.others))
                kind = fault.kind.replace("-", " ")
                yield Finding(placed.document, (*placed.loc, *place(fault.verb, fault.at)),
                              f"on an engine without {equipment}, this goes wrong: {', '.join(names)} ({kind})",
                              f"write  only_with: [{equipment}]  at both ends of the work, or at neither")  # fmt: skip
                break


def _same(run: Run, fault: Fault) -> tuple[object, ...]:
    placed = run.steps[fault.step]
    return (fault.kind, placed.document.path, placed.loc, fault.verb, fault.at)
