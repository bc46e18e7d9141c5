"""Which hazards a step meets: from the materials it uses, the items it touches, and what it says itself."""

from __future__ import annotations

from docgen.club.schema.club import Club
from docgen.club.schema.model import Fastener, Model, Part
from docgen.club.schema.procedure import ASSEMBLY_VERBS, Step


def item_of(model: Model, name: str) -> Part | Fastener | None:
    """The part or fastener that a name (or one member of it) means."""
    base = name.partition("/")[0]
    return model.parts.get(base) or model.fasteners.get(base)


def materials_of(step: Step, model: Model) -> tuple[str, ...]:
    """The materials that a step uses: applied, cleaned with, or put on the threads that it tightens."""
    lockers = [f.locker for name in step.tightens if (f := model.fasteners.get(name.partition("/")[0])) and f.locker]
    return tuple(dict.fromkeys([*step.applies, *(clean.material for clean in step.cleans.values()), *lockers]))


def met(step: Step, model: Model, club: Club) -> frozenset[str]:
    """The hazards that a reader meets in this step."""
    found = set(step.meets)
    for name in materials_of(step, model):
        if name in club.materials:
            found |= set(club.materials[name].hazards)
    for verb in ASSEMBLY_VERBS:
        for name in getattr(step, verb):
            item = item_of(model, name)
            found |= set(item.hazards) if item else set()
    if step.runs:
        found |= {"heat", "turning", "noise", "fumes"}
    return frozenset(found)
