"""A job that is sound with a piece of equipment and unsound without it: `only_with` stands at one end only.

That makes a branch of it, and both of its ways must end the same.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from docgen.club.bench.faults import Fault
from docgen.club.folder import Read
from docgen.club.schema.procedure import Procedure, Sequence, Step
from docgen.job.expand import expand
from docgen.job.simulate import Run, simulate
from docgen.proof.case import Case, Finding, Findings, place


def on_run(case: Case) -> Findings:
    """One finding for each piece of equipment, at the first step that goes wrong without it."""
    known = {_same(case.run, fault) for fault in case.run.faults}
    for equipment, run in _ways_without(case):
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


def _ways_without(case: Case) -> Iterator[tuple[str, Run]]:
    """The job without each piece of optional equipment that some of its assembly work asks for.

    The items that only the steps left out handle are left out of the engine too. Where other steps do their work on an
    engine with something else in its place (`only_with` of what this type lacks), nobody can tell how the job goes
    without either, and it is not tried.
    """
    optional, procedure, sequences, model = case.optional, case.procedure, case.sequences, case.model.value
    conditions = _conditional(procedure.value, sequences) if optional else ()
    asked = dict.fromkeys(word for words in conditions for word in words)
    if not optional & asked.keys():
        return
    whole = expand(procedure, sequences, model)
    handled = Counter(_handled(placed.step for placed in whole))
    every = {*asked, *model.equipment}
    anywhere = expand(procedure, sequences, model.model_copy(update={"equipment": tuple(sorted(every))}))
    elsewhere = Counter(_handled(placed.step for placed in anywhere)) - handled
    for equipment in (word for word in asked if word in optional):
        bare = model.model_copy(update={"equipment": tuple(e for e in model.equipment if e != equipment)})
        steps = expand(procedure, sequences, bare)
        common = Counter(_handled(placed.step for placed in steps))
        if common != handled and not (handled - common).keys() & elsewhere.keys():
            yield equipment, simulate(steps, case.run.graph.without(handled.keys() - common.keys()), model.limits)


def _conditional(procedure: Procedure, sequences: Mapping[str, Read[Sequence]]) -> Iterator[tuple[str, ...]]:
    for stage in procedure.stages:
        yield stage.only_with
        for step in stage.steps:
            yield step.only_with
            if step.use and step.use in sequences:
                yield from (inner.only_with for inner in sequences[step.use].value.steps)


def _handled(steps: Iterable[Step]) -> Iterator[str]:
    return (name.partition("/")[0] for step in steps for name in step.moved)
