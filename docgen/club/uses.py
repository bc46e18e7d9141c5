"""The names that a job uses and an engine type must define, and those that it lacks: whether the job fits the type."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from docgen.club.schema.model import Model
from docgen.club.schema.procedure import AfterRun, Procedure, Sequence, Stage, Step
from docgen.club.schema.prose import versions
from docgen.club.yamldoc import Document, Loc

if TYPE_CHECKING:
    from docgen.club.folder import Folder, Read

SUBSTITUTION = re.compile(r"\{([^{}]*)\}")
TEXTS = ("row", "adds", "alone", "do", "why")
"""The texts of a step that may name an item or a value in braces."""


@dataclass(frozen=True)
class Use:
    """A name used at a place, and where it must be defined."""

    path: str
    loc: Loc
    name: str
    where: str
    document: Document = field(compare=False, repr=False)
    key: bool = False


def applies(procedure: Procedure, model: Model) -> bool:
    """Whether the model has all the equipment that the procedure needs."""
    return set(procedure.needs) <= set(model.equipment)


def has(model: Model, what: Stage | Step | AfterRun) -> bool:
    """Whether a step, stage or check is for a model: it has the equipment, limit or setting that `only_with` names."""
    return _has(model, what.only_with)


def _has(model: Model, words: Iterable[str]) -> bool:
    return all(word in model.equipment or word in model.limits or word in model.settings for word in words)


def uses(folder: Folder, read: Read[Procedure], model: Model) -> Iterator[Use]:
    """Each name that this model must define for a job, the steps of sequences included."""
    return (use for words, use in _uses(folder, read, {}) if _has(model, words))


_Uses: TypeAlias = "list[tuple[tuple[str, ...], Use]]"
"""Names, each with the words that a model must have for its step to be made on it."""


def _uses(folder: Folder, read: Read[Procedure], known: dict[str, _Uses]) -> Iterator[tuple[tuple[str, ...], Use]]:
    """Each name that a job uses. `known`: the names in each sequence that was looked through."""
    procedure, document = read.value, read.document
    for index, name in enumerate(procedure.spares):
        yield (), _use(document, ("spares", index), name, "items")
    for at, stage in enumerate(procedure.stages):
        for number, step in enumerate(stage.steps):
            loc: Loc = ("stages", at, "steps", number)
            words = (*stage.only_with, *step.only_with)
            if step.use and step.use in folder.sequences:
                yield from ((words, use) for use in _text_uses(document, loc, step))
                if step.use not in known:
                    known[step.use] = [*_sequence_uses(folder.sequences[step.use])]
                yield from (((*words, *own), use) for own, use in known[step.use])
            else:
                yield from ((words, use) for use in _step_uses(document, loc, step))


def _sequence_uses(sequence: Read[Sequence]) -> Iterator[tuple[tuple[str, ...], Use]]:
    for inner, part in enumerate(sequence.value.steps):
        yield from ((part.only_with, use) for use in _step_uses(sequence.document, ("steps", inner), part))


def _use(document: Document, loc: Loc, name: str, where: str, key: bool = False) -> Use:
    return Use(document.path, loc, name, where, document, key)


def _step_uses(document: Document, loc: Loc, step: Step) -> Iterator[Use]:
    for verb in step.verbs:
        for at, name, is_key in verb.names(step):
            yield _use(document, (*loc, verb.key, *at), name, verb.defined, is_key)
    for verb, fail in step.fails:
        for key in ("renews", "spares"):
            for index, name in enumerate(getattr(fail, key) or ()):
                yield _use(document, (*loc, verb.key, "fail", key, index), name, "items")
    yield from _text_uses(document, loc, step)


def _text_uses(document: Document, loc: Loc, step: Step) -> Iterator[Use]:
    for key in TEXTS:
        texts = [text for text in versions(said).values() if "{" in text] if (said := getattr(step, key)) else ()
        for name in dict.fromkeys(name for text in texts for name in SUBSTITUTION.findall(text)):
            yield _use(document, (*loc, key), name, "anything")


def places_of(model: Model, where: str) -> tuple[Mapping[str, object], ...]:
    """Where a model defines names of a kind."""
    if where == "items":
        return (model.parts, model.fasteners)
    if where == "anything":
        return (model.parts, model.fasteners, model.limits, model.settings)
    return (getattr(model, where),)


def defined(model: Model, use: Use) -> bool:
    """Whether a model defines what a name stands for, in its kind and number."""
    name, _, number = use.name.partition("/")
    for place in places_of(model, use.where):
        if name in place:
            return not number or int(number) <= getattr(place[name], "count", 1)
    return False


def lacking(folder: Folder) -> dict[tuple[str, str], tuple[Use, ...]]:
    """By job and engine type, for each type that has the job's equipment: what the job names and the type lacks.

    A job that fits its type is not among them.
    """
    found: dict[tuple[str, str], tuple[Use, ...]] = {}
    known: dict[str, _Uses] = {}
    models = [read.value for _, read in sorted(folder.models.items())]
    for name, read in sorted(folder.procedures.items()):
        every = list(_uses(folder, read, known))
        for model in (one for one in models if applies(read.value, one)):
            if lacks := tuple(use for words, use in every if not defined(model, use) and _has(model, words)):
                found[name, model.model] = lacks
    return found
