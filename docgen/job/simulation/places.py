"""What can be reached while it is measured or looked at, and where the crank stands meanwhile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from docgen.club.bench.state import State
from docgen.club.schema.model import Limit
from docgen.club.yamldoc import Loc
from docgen.job.simulate import Run

PlaceKind = Literal[
    "covered",  # measured or looked at while something in front of it is on
    "crank-elsewhere",  # measured while the crank stands elsewhere than the model wants, or nobody knows where
]


@dataclass(frozen=True)
class PlaceFault:
    """One fault of reach or place.

    at      : the place below the step            what : what is measured, looked at, packed
    members : what is in the way                  since: the step that last moved the crank
    """

    kind: PlaceKind
    step: int
    at: Loc
    what: str
    members: tuple[str, ...] = ()
    since: int | None = None


def place_faults(run: Run, limits: Mapping[str, Limit]) -> Iterator[PlaceFault]:
    """What cannot be reached, and what is measured with the crank elsewhere."""
    crank: str | None = None
    moved: int | None = None
    for index, placed in enumerate(run.steps):
        step = placed.step
        if step.turns or step.runs or step.crank:
            crank, moved = (None if step.runs else step.crank), index
        for at, name in enumerate(step.measure.of if step.measure else ()):
            limit = limits.get(name)
            if limit:
                before = tuple(m for m in run.graph.each(limit.behind) if not _off(run, m, index))
                if before:
                    yield PlaceFault("covered", index, ("measure", "of", at), name, before)
                if limit.crank and not _stands(crank, limit.crank):
                    yield PlaceFault("crank-elsewhere", index, ("measure", "of", at), name, (), moved)
        for at, name in enumerate(step.look.of if step.look else ()):
            hiding = tuple(dict.fromkeys(m for one in run.graph.members(name) for m in _hiding(run, one, index)))
            if hiding:
                yield PlaceFault("covered", index, ("look", "of", at), name, hiding)


def _stands(crank: str | None, wanted: str) -> bool:
    """Any top dead centre will do where the model does not say which."""
    return crank == wanted or (wanted == "tdc" and crank is not None and crank.startswith("tdc"))


def _off(run: Run, member: str, index: int) -> bool:
    """Whether it is off before the step or behind it: a step may open and measure, or measure and close."""
    return any(State(run.graph).released(member, now) for now in run.before[index : index + 2])


def _hiding(run: Run, member: str, index: int) -> tuple[str, ...]:
    """What hides a member from sight; what is off lies in plain sight."""
    return min((State(run.graph).hiding(member, now) for now in run.before[index : index + 2]), key=len)
