"""Seals of the class: the step that breaks one, and what may not be touched any more once the new one is on."""

from collections.abc import Iterable, Iterator

from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step


def held_down_by(model: Model, part: str) -> frozenset[str]:
    """The fasteners whose undoing breaks the seal on a part: those that screw it down, not its hoses and leads."""
    found = model.parts[part].held_by if part in model.parts else ()
    bases = (name.partition("/")[0] for name in found)
    return frozenset(name for name in bases if name in model.fasteners and not model.fasteners[name].catch)


def opened(step: Step, model: Model) -> Iterator[str]:
    """The sealable parts that a step undoes or takes off."""
    touched = {name.partition("/")[0] for name in (*step.undoes, *step.removes)}
    for name, part in model.parts.items():
        if part.sealable and touched & {name, *held_down_by(model, name)}:
            yield name


def broken(steps: Iterable[Step], model: Model) -> dict[int, tuple[str, ...]]:
    """The seals that each step breaks: those on the parts that it is the first to undo, or to take off."""
    found: dict[int, tuple[str, ...]] = {}
    gone: set[str] = set()
    for index, step in enumerate(steps):
        first = tuple(name for name in opened(step, model) if name not in gone)
        if first:
            found[index] = first
        gone |= set(first)
    return found
