"""A procedure as the flat run of steps that one model gets: sequences put in, steps for other equipment left out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from docgen.club.folder import Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, SafetyMessage, Sequence, Step
from docgen.club.uses import has
from docgen.club.yamldoc import Document, Loc


class PlacedStep(NamedTuple):
    """A step in its stage, with the file and place that it was written in.

    row, adds : what it says of the bench leaf, or what the step says that uses its sequence
    user      : the file and place of the step that uses its sequence
    said      : whether that step says what stands on the bench leaf in its stead
    serves    : the jobs that it is done for, where several are done in one visit
    """

    stage: str
    step: Step
    document: Document
    loc: Loc
    used_as: str = ""
    row: str | None = None
    adds: str | None = None
    user: tuple[Document, Loc] | None = None
    said: bool = False
    serves: tuple[str, ...] = ()

    @property
    def says(self) -> tuple[Document, Loc]:
        """The file and place of what is said of the bench leaf."""
        return self.user if self.user and self.said else (self.document, self.loc)


@dataclass(frozen=True)
class Placed:
    """A safety message, with the file and place that it was written in; in a visit, with the jobs that say it."""

    message: SafetyMessage
    document: Document
    loc: Loc
    jobs: tuple[str, ...] = ()


def expand(procedure: Read[Procedure], sequences: Mapping[str, Read[Sequence]], model: Model) -> tuple[PlacedStep, ...]:
    """The steps that `model` gets, in order. A sequence that is not known is left out: reading reports it."""
    return tuple(_placed(procedure, sequences, model))


def messages(procedure: Read[Procedure], sequences: Mapping[str, Read[Sequence]], model: Model) -> tuple[Placed, ...]:
    """The procedure's safety messages, then those of the sequences that it uses on `model`, each once."""
    found = [Placed(m, procedure.document, ("safety", i)) for i, m in enumerate(procedure.value.safety)]
    for name in used(procedure.value, model):
        if name in sequences:
            read = sequences[name]
            found += [Placed(m, read.document, ("safety", i)) for i, m in enumerate(read.value.safety)]
    return tuple(found)


def own_steps(value: Procedure | Sequence) -> Iterator[tuple[Loc, Step]]:
    """The steps that a file writes, each with its place; those that use a sequence left out."""
    if isinstance(value, Sequence):
        yield from ((("steps", i), step) for i, step in enumerate(value.steps))
        return
    for at, stage in enumerate(value.stages):
        yield from ((("stages", at, "steps", i), step) for i, step in enumerate(stage.steps) if step.use is None)


def used(procedure: Procedure, model: Model | None = None) -> tuple[str, ...]:
    """The names of the sequences that a procedure uses (on `model`, or on any), each once, in order."""
    steps = (s for stage in procedure.stages if model is None or has(model, stage) for s in stage.steps)
    return tuple(dict.fromkeys(s.use for s in steps if s.use and (model is None or has(model, s))))


def _placed(procedure: Read[Procedure], sequences: Mapping[str, Read[Sequence]], model: Model) -> Iterator[PlacedStep]:
    for at, stage in enumerate(procedure.value.stages):
        if not has(model, stage):
            continue
        for index, step in enumerate(stage.steps):
            loc: Loc = ("stages", at, "steps", index)
            if not has(model, step):
                continue
            if step.use is None:
                yield PlacedStep(stage.stage, step, procedure.document, loc, "", step.row, step.adds)
            elif step.use in sequences:
                read = sequences[step.use]
                own = step.row or step.adds
                row, adds = step.row, step.adds
                for inner, part in enumerate(read.value.steps):
                    if has(model, part):
                        said = (row, adds) if own else (part.row, part.adds)
                        user = (procedure.document, loc)
                        yield PlacedStep(stage.stage, part, read.document, ("steps", inner), step.use, *said, user,
                                         bool(own))  # fmt: skip
                        row = adds = None
