"""Which hazards a step meets: from the materials it uses, the items it touches, and what it says itself; and which
safety message stands before which step."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from docgen.club.schema.club import Club
from docgen.club.schema.model import Fastener, Model, Part
from docgen.club.schema.procedure import GRAVEST, SafetyMessage, Step
from docgen.job.expand import Placed, PlacedStep
from docgen.job.stepmarks import step_key

BODY = {"eyes", "skin"}
"""Hazards that say what is harmed, not what harms it."""


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
    found = set(step.meets) | borne(step, model, club)
    for name in step.moved:
        item = item_of(model, name)
        found |= set(item.hazards) if item else set()
    if step.runs:
        found |= {"heat", "turning", "noise", "exhaust"}
    return frozenset(found)


def borne(step: Step, model: Model, club: Club) -> frozenset[str]:
    """The hazards of the materials that a step uses."""
    used = (club.materials[name] for name in materials_of(step, model) if name in club.materials)
    return frozenset(hazard for material in used for hazard in material.hazards)


class Spot(NamedTuple):
    """A step as safety messages see it.

    met, borne : the hazards that it meets, and those of them that its materials bring
    moved      : what it takes off, puts on or does up
    starts     : whether the engine is started or cranked in it
    """

    key: str
    met: frozenset[str]
    borne: frozenset[str] = frozenset()
    moved: frozenset[str] = frozenset()
    stage: str = ""
    starts: bool = False
    jobs: tuple[str, ...] = ()


def spots(placed: Sequence[PlacedStep], model: Model, club: Club) -> list[Spot]:
    """The steps of a job or a visit as safety messages see them. What turns and does not run yet is cranked; a part is
    without current while the lead is off that takes it off the engine."""
    found: list[Spot] = []
    running, isolated = False, False
    for number, one in enumerate(placed, 1):
        step, hazards = one.step, met(one.step, model, club)
        if model.isolator in step.moved:
            isolated = model.isolator not in step.tightens
        elif isolated and "current" not in step.meets:
            hazards -= {"current"}
        running = running and one.stage == found[-1].stage
        starts = step.runs or ("turning" in hazards and not running)
        running = running or step.runs
        key, materials, moved = step_key(step, number), borne(step, model, club), frozenset(step.moved)
        found.append(Spot(key, hazards, materials, moved, one.stage, starts, one.serves))
    return found


def placed(safety: Sequence[Placed], steps: Sequence[Spot]) -> dict[int, list[SafetyMessage]]:
    """Each message before the steps where it is needed: in each stage anew, and at every start; the gravest first.

    A message that names its step (`at`) stands there. Every other one waits for the first step of a stage that meets
    one of its hazards of which no message has told yet: where several could tell of it, the one that speaks of what
    this step meets, and of least else. So a message about the running engine does not come up where a hot pipe is
    touched, as long as another one tells of that; and one whose hazards have all been told of is left out, as is one
    for hazards that this model's steps never meet. Where nothing else tells of a hazard, what stood at a step that it
    names stands again, first what stood where the same was moved; then comes what names a step that is not there.

    Where the engine is started or cranked, nothing counts as told. In a visit, a step is told of by the messages of
    the jobs that it serves, and a hazard that the step before has met is told of still, where a job goes on.
    """
    keys = {spot.key for spot in steps}
    places: dict[int, list[SafetyMessage]] = {}
    told: set[str] = set()
    stood: list[tuple[SafetyMessage, Spot]] = []
    for index, spot in enumerate(steps):
        before = steps[index - 1] if index else spot
        if spot.stage != before.stage:
            told &= before.met if set(spot.jobs) & set(before.jobs) else set()
        told -= spot.met if spot.starts else set()
        own = [one.message for one in safety if not one.jobs or set(one.jobs) & set(spot.jobs)]
        here = [one for one in own if one.at == spot.key]
        again = sorted(stood, key=lambda one: not one[1].moved & spot.moved)
        stood = [*((one, spot) for one in here), *stood]
        for one in here:
            told |= _told_with(one, own)
        for free in (
            [one for one in own if not one.at],
            [one for one, _ in again if one in own],
            [one for one in own if one.at and one.at not in keys],
        ):
            while telling := [one for one in free if _speaks_of(one, spot) - told]:
                here.append(min(telling, key=lambda one: _beside(one, spot, told)))
                told |= _told_with(here[-1], own)
        if here:
            once = {_text(one): one for one in here}
            places[index] = sorted(once.values(), key=lambda one: GRAVEST.index(one.word))
    return places


def _told_with(message: SafetyMessage, own: Sequence[SafetyMessage]) -> set[str]:
    """The hazards that are told of with a message, and with those that say the same."""
    return {hazard for one in own if _text(one) == _text(message) for hazard in one.hazards}


def _speaks_of(message: SafetyMessage, spot: Spot) -> frozenset[str]:
    """The hazards of a step that a message tells of. One that speaks of a material says nothing of a step that is only
    dangerous to the same part of the body, nor does one that speaks of something else."""
    shared = frozenset(message.hazards) & spot.met
    about = frozenset(message.hazards) - BODY
    return shared if shared & (about or (frozenset() if message.at else spot.borne)) else frozenset()


def _text(message: SafetyMessage) -> tuple[str, str, str]:
    return message.hazard, message.consequence, message.avoid


def _beside(message: SafetyMessage, spot: Spot, told: set[str]) -> tuple[int, int]:
    said = set(message.hazards)
    return len(said - spot.met), -len(said & spot.met - told)


def untold(places: dict[int, list[SafetyMessage]], steps: Sequence[Spot]) -> Iterator[tuple[int, frozenset[str]]]:
    """The steps that meet hazards before any message about them, each hazard once."""
    told: set[str] = set()
    for index, met_here in enumerate(spot.met for spot in steps):
        told |= {hazard for message in places.get(index, ()) for hazard in message.hazards}
        if met_here - told:
            yield index, frozenset(met_here - told)
            told |= met_here
