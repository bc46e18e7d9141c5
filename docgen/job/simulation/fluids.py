"""What the engine holds while it is worked on: each fluid full or empty, and what goes wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from docgen.club.bench.state import Change
from docgen.club.schema.model import Fluid
from docgen.club.schema.procedure import Step
from docgen.job.simulate import Run

FluidKind = Literal[
    "no-way",  # let out or filled in while nothing is open for it
    "twice",  # let out though it is empty, filled in though it is full
    "runs-out",  # what holds it comes off while it is full, and nothing lets it out there
    "filled-open",  # filled in while what lets it out is open
    "run-dry",  # the engine runs without it
    "left-empty",  # at the end: let out, and not filled in
]
CLOSED = ("on", "tight", "unknown")


@dataclass(frozen=True)
class FluidFault:
    """One fault with one fluid.

    step, verb : where: the step's index, and `drains`, `fills`, `runs`, or the verb of `change` that opens it
    members    : what is open, or closed, and ought not to be        since: the step that let it out or filled it in
    """

    kind: FluidKind
    step: int
    verb: str
    fluid: str
    members: tuple[str, ...] = ()
    since: int | None = None
    change: Change | None = None


def fluid_faults(run: Run, fluids: Mapping[str, Fluid]) -> Iterator[FluidFault]:
    """What goes wrong with the fluids of an engine that starts full; each cause once."""
    for name, fluid in fluids.items():
        yield from _Held(run, name, fluid).faults()


@dataclass
class _Held:
    """One fluid in the course of a job: full, and since which step otherwise."""

    run: Run
    name: str
    fluid: Fluid
    full: bool | None = True
    since: int | None = None

    def faults(self) -> Iterator[FluidFault]:
        for index, placed in enumerate(self.run.steps):
            step = placed.step
            if self.name in step.drains:
                yield from self._drained(index)
            elif self.full:
                yield from self._opened(index)
            if self.name in step.fills:
                yield from self._filled(index)
            if step.runs and self.full is False:
                yield FluidFault("run-dry", index, "runs", self.name, since=self.since)
                self.full = None
        if self.full is False and self.since is not None:
            yield FluidFault("left-empty", self.since, "drains", self.name)

    def _drained(self, index: int) -> Iterator[FluidFault]:
        ways = self.run.graph.each(self.fluid.drain or self.fluid.fill)
        if self.full is False:
            yield FluidFault("twice", index, "drains", self.name, since=self.since)
        elif ways and not self._open(ways, index):
            yield FluidFault("no-way", index, "drains", self.name, ways)
        self.full, self.since = False, index

    def _opened(self, index: int) -> Iterator[FluidFault]:
        """Something below the level comes off: this step or the next must be the one that lets it out."""
        ways = set(self.run.graph.each(self.fluid.drain))
        off = [c for c in self.run.by_step[index] if c.member in ways and c.verb in ("undoes", "removes")]
        if off and not any(self.name in step.drains for step in self._next(index)):
            yield FluidFault("runs-out", index, off[0].verb, self.name, tuple(c.member for c in off), change=off[0])
            self.full = None

    def _filled(self, index: int) -> Iterator[FluidFault]:
        graph = self.run.graph
        below, above = graph.each(self.fluid.drain), graph.each(self.fluid.fill)
        still = tuple(m for m in below if self.run.before[index + 1][m] not in CLOSED)
        if self.full:
            yield FluidFault("twice", index, "fills", self.name, since=self.since)
        if still:
            yield FluidFault("filled-open", index, "fills", self.name, still)
        if above and not self._open(above, index):
            yield FluidFault("no-way", index, "fills", self.name, above)
        self.full, self.since = True, index

    def _open(self, members: tuple[str, ...], index: int) -> bool:
        return any(self.run.before[at][m] not in ("on", "tight") for m in members for at in (index, index + 1))

    def _next(self, index: int) -> Iterator[Step]:
        return (placed.step for placed in self.run.steps[index + 1 : index + 2])
