"""The job as it goes without a piece of equipment: `only_with` is a branch, and both of its ways must end the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from docgen.club.folder import Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import ASSEMBLY_VERBS, Procedure, Sequence, Step
from docgen.job.expand import expand
from docgen.job.graph import Graph
from docgen.job.simulate import Run, simulate


def conditions(procedure: Read[Procedure], sequences: Mapping[str, Read[Sequence]], model: Model) -> tuple[str, ...]:
    """The equipment that this model has and that some step or stage asks for, beyond what the whole job needs."""
    asked = {word: None for step in _conditional(procedure.value, sequences) for word in step}
    return tuple(word for word in asked if word in model.equipment and word not in procedure.value.needs)


def without(
    equipment: str,
    procedure: Read[Procedure],
    sequences: Mapping[str, Read[Sequence]],
    model: Model,
    left_out: Iterable[str],
) -> Run:
    """The job on this model without `equipment`, and without the items that only its steps handle."""
    bare = model.model_copy(update={"equipment": tuple(e for e in model.equipment if e != equipment)})
    whole, steps = expand(procedure, sequences, model), expand(procedure, sequences, bare)
    handled, common = _handled(s.step for s in whole), _handled(s.step for s in steps)
    graph = Graph(model, [*left_out, *(handled - common)])
    return simulate(steps, graph, model.limits)


def _conditional(procedure: Procedure, sequences: Mapping[str, Read[Sequence]]) -> Iterator[tuple[str, ...]]:
    for stage in procedure.stages:
        yield stage.only_with
        for step in stage.steps:
            yield step.only_with
            if step.use and step.use in sequences:
                yield from (inner.only_with for inner in sequences[step.use].value.steps)


def _handled(steps: Iterable[Step]) -> set[str]:
    return {name.partition("/")[0] for step in steps for verb in ASSEMBLY_VERBS for name in getattr(step, verb)}
