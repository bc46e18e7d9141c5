"""The job as it goes without a piece of equipment: `only_with` is a branch, and both of its ways must end the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from docgen.club.bench.graph import Graph
from docgen.club.folder import Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence, Step
from docgen.job.expand import expand
from docgen.job.simulate import Run, simulate


def in_all(procedure: Procedure, models: Iterable[Model]) -> frozenset[str]:
    """The equipment that every engine type has to which the job applies, beyond what the job needs.

    A type without a piece of equipment shows by itself how the job goes there; for these, no type does.
    """
    needs = set(procedure.needs)
    having = [set(model.equipment) for model in models if needs <= set(model.equipment)]
    return frozenset(set.intersection(*having) - needs) if having else frozenset()


def ways_without(
    optional: frozenset[str],
    procedure: Read[Procedure],
    sequences: Mapping[str, Read[Sequence]],
    model: Model,
    graph: Graph,
) -> Iterator[tuple[str, Run]]:
    """The job without each piece of `optional` equipment that some of its assembly work asks for.

    The items that only the steps left out handle are left out of the engine too. Where other steps do their work on an
    engine with something else in its place (`only_with` of what this type lacks), nobody can tell how the job goes
    without either, and it is not tried.
    """
    if not optional:
        return
    asked = dict.fromkeys(word for step in _conditional(procedure.value, sequences) for word in step)
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
            yield equipment, simulate(steps, graph.without(handled.keys() - common.keys()), model.limits)


def _conditional(procedure: Procedure, sequences: Mapping[str, Read[Sequence]]) -> Iterator[tuple[str, ...]]:
    for stage in procedure.stages:
        yield stage.only_with
        for step in stage.steps:
            yield step.only_with
            if step.use and step.use in sequences:
                yield from (inner.only_with for inner in sequences[step.use].value.steps)


def _handled(steps: Iterable[Step]) -> Iterator[str]:
    return (name.partition("/")[0] for step in steps for name in step.moved)
