"""What the engine holds while it is worked on: each fluid full or empty, and what goes wrong with it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from docgen.club.bench.faults import Fault
from docgen.club.schema.model import Fluid
from docgen.club.schema.procedure import Step
from docgen.job.simulate import Run

CLOSED = ("on", "tight", "unknown")


def fluid_faults(run: Run, fluids: Mapping[str, Fluid]) -> Iterator[Fault]:
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

    def faults(self) -> Iterator[Fault]:
        """What goes wrong with it, in the order of the steps."""
        for index, placed in enumerate(self.run.steps):
            step = placed.step
            if self.name in step.drains:
                yield from self._drained(index)
            elif self.full:
                yield from self._opened(index)
            if self.name in step.fills:
                yield from self._filled(index)
            if step.runs and self.full is False:
                yield self._fault("fluid-not-there", index, "runs")
                self.full = None
        if self.full is False and self.since is not None:
            yield self._fault("fluid-left-out", self.since, "drains")

    def _fault(self, kind: str, index: int, verb: str, **more: Any) -> Fault:
        named = getattr(self.run.steps[index].step, verb)
        at = named.index(self.name) if verb != "runs" else 0
        return Fault(kind, index, verb, at, what=self.name, **{"members": (), "since": self.since, **more})

    def _drained(self, index: int) -> Iterator[Fault]:
        ways = self.run.graph.each(self.fluid.drain or self.fluid.fill)
        if self.full is False:
            yield self._fault("fluid-out-already", index, "drains")
        elif ways and not self._open(ways, index):
            yield self._fault("fluid-shut", index, "drains", members=ways)
        self.full, self.since = False, index

    def _opened(self, index: int) -> Iterator[Fault]:
        """Something below the level comes off: this step or the next must be the one that lets it out."""
        ways = set(self.run.graph.each(self.fluid.drain))
        off = [c for c in self.run.by_step[index] if c.member in ways and c.verb in ("undoes", "removes")]
        if off and not any(self.name in step.drains for step in self._next(index)):
            first, members = off[0], tuple(c.member for c in off)
            yield Fault("fluid-runs-out", index, first.verb, first.at, members, what=self.name)
            self.full = None

    def _filled(self, index: int) -> Iterator[Fault]:
        graph = self.run.graph
        below, above = graph.each(self.fluid.drain), graph.each(self.fluid.fill)
        if self.full:
            yield self._fault("fluid-in-already", index, "fills")
        if still := tuple(m for m in below if self.run.before[index + 1][m] not in CLOSED):
            past = tuple(c for c in self.run.changes if c.member in still and c.step <= index)[-1:]
            yield self._fault("fluid-open", index, "fills", others=still, past=past)
        if above and not self._open(above, index):
            yield self._fault("fluid-shut", index, "fills", members=above)
        self.full, self.since = True, index

    def _open(self, members: tuple[str, ...], index: int) -> bool:
        return any(self.run.before[at][m] not in ("on", "tight") for m in members for at in (index, index + 1))

    def _next(self, index: int) -> Iterator[Step]:
        return (placed.step for placed in self.run.steps[index + 1 : index + 2])
