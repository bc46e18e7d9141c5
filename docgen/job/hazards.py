"""Which hazards a step meets: from the materials it uses, the items it touches, and what it says itself; and which
safety message stands before which step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from docgen.club.schema.club import Club
from docgen.club.schema.model import Fastener, Model, Part
from docgen.club.schema.procedure import SafetyMessage, Step


def item_of(model: Model, name: str) -> Part | Fastener | None:
    """The part or fastener that a name (or one member of it) means."""
    base = name.partition("/")[0]
    return model.parts.get(base) or model.fasteners.get(base)


def materials_of(step: Step, model: Model) -> tuple[str, ...]:
    """The materials that a step uses: applied, filled in, cleaned with, or put on the threads that it tightens."""
    lockers = [f.locker for name in step.tightens if (f := model.fasteners.get(name.partition("/")[0])) and f.locker]
    filled = [model.fluids[name].materials[0] for name in step.fills if name in model.fluids]
    cleaners = [clean.material for clean in step.cleans.values() if clean.material]
    return tuple(dict.fromkeys([*step.applies, *filled, *cleaners, *lockers]))


def met(step: Step, model: Model, club: Club) -> frozenset[str]:
    """The hazards that a reader meets in this step."""
    found = set(step.meets)
    for name in materials_of(step, model):
        if name in club.materials:
            found |= set(club.materials[name].hazards)
    for name in step.moved:
        item = item_of(model, name)
        found |= set(item.hazards) if item else set()
    if step.runs:
        found |= {"heat", "turning", "noise", "exhaust"}
    return frozenset(found)


def placed(
    safety: Sequence[SafetyMessage], keys: Sequence[str], hazards: Sequence[frozenset[str]]
) -> dict[int, list[SafetyMessage]]:
    """Each message before the step where it is needed; each text once.

    keys, hazards : of each step, its key and what it meets
    A message that names its step (`at`) stands there. Every other one waits for the first step that meets one of its
    hazards of which no message has told yet: where several could tell of it, the one that speaks of what this step
    meets, and of least else. So a message about the running engine does not come up where a hot pipe is touched, as
    long as another one tells of that; and one whose hazards have all been told of is left out, as is one for hazards
    that this model's steps never meet.
    """
    fixed = {id(m): keys.index(m.at) for m in safety if m.at in keys}
    waiting = _each_once(safety, fixed)
    places: dict[int, list[SafetyMessage]] = {}
    told: set[str] = set()
    for index, met_here in enumerate(hazards):
        here = [m for m in waiting if fixed.get(id(m)) == index]
        told |= {hazard for message in here for hazard in message.hazards}
        free = [m for m in waiting if id(m) not in fixed]
        while telling := [m for m in free if set(m.hazards) & met_here - told]:
            best = min(telling, key=lambda m: (len(set(m.hazards) - met_here), -len(set(m.hazards) & met_here - told)))
            here.append(best)
            free = [m for m in free if m is not best]
            told |= set(best.hazards)
        if here:
            places[index] = [m for m in waiting if any(m is one for one in here)]
            waiting = [m for m in waiting if not any(m is one for one in here)]
    return places


def _each_once(safety: Sequence[SafetyMessage], fixed: Mapping[int, int]) -> list[SafetyMessage]:
    """The messages without those that say the same again; of several, the one whose step comes first."""
    texts: dict[tuple[str, str, str], list[SafetyMessage]] = {}
    for message in safety:
        texts.setdefault((message.hazard, message.consequence, message.avoid), []).append(message)
    return [min(same, key=lambda m: fixed.get(id(m), len(safety) + max(fixed.values(), default=0)))
            for same in texts.values()]  # fmt: skip


def untold(
    places: dict[int, list[SafetyMessage]], hazards: Sequence[frozenset[str]]
) -> Iterator[tuple[int, frozenset[str]]]:
    """The steps that meet hazards before any message about them, each hazard once."""
    told: set[str] = set()
    for index, met_here in enumerate(hazards):
        told |= {hazard for message in places.get(index, ()) for hazard in message.hazards}
        if met_here - told:
            yield index, frozenset(met_here - told)
            told |= met_here
