"""A procedure simulated on one engine, step by step, as a mechanic would carry it out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from docgen.club.bench.bench import Bench
from docgen.club.bench.faults import Fault
from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change, Condition
from docgen.club.schema.model import Fail, Limit
from docgen.club.schema.procedure import VERBS, Step
from docgen.job.expand import PlacedStep

WATCHING = tuple(verb for verb in VERBS.values() if {"closing", "turning", "ending"} & vars(type(verb)).keys())
"""The verbs whose earlier work may be in the way of what is put on or turned, or left at the end."""


@dataclass(frozen=True)
class Run:
    """What came of it.

    changes : every member met by every verb, in order
    faults  : what went wrong, each cause once, in order
    before  : the condition of every member before each step, and behind the last
    """

    graph: Graph
    steps: tuple[PlacedStep, ...]
    changes: tuple[Change, ...]
    faults: tuple[Fault, ...]
    before: tuple[Mapping[str, Condition], ...]

    @cached_property
    def by_step(self) -> tuple[tuple[Change, ...], ...]:
        """The changes of each step."""
        found: list[list[Change]] = [[] for _ in self.steps]
        for change in self.changes:
            found[change.step].append(change)
        return tuple(tuple(one) for one in found)


def simulate(steps: Sequence[PlacedStep], graph: Graph, limits: Mapping[str, Limit]) -> Run:
    """Carry out `steps` on an engine that starts whole: all parts on, all fasteners tight.

    Names that the graph does not have are passed over: reading reports them, and what an engine was left
    without needs no work. Pure: nothing but the arguments is read.
    """
    bench = Bench(graph, WATCHING)
    before: list[Mapping[str, Condition]] = []
    before.append(dict(bench.state.now))
    for bench.step, placed in enumerate(steps):
        acted = carry_out(bench, placed.step)
        before.append(dict(bench.state.now) if acted else before[-1])
    for index, placed in enumerate(steps):
        _failing(bench, index, placed.step, limits, before)
    _ending(bench)
    return Run(graph, tuple(steps), tuple(bench.changes), tuple(bench.faults), tuple(before))


def carry_out(bench: Bench, step: Step) -> bool:
    """The verbs of one step; whether it has any that touch the engine."""
    bench.was = dict(bench.state.now) if len(step.work) > 1 else bench.state.now  # a single verb begins with both
    for verb in step.work:
        verb.carry_out(step, bench)
    return bool(step.work)


def _failing(
    bench: Bench, index: int, step: Step, limits: Mapping[str, Limit], before: Sequence[Mapping[str, Condition]]
) -> None:
    """What a failing check renews must be off, come off later, or be within reach as the check is made."""
    for verb, fail in _fails(step, limits) if step.look or step.measure else ():
        for at, name in enumerate(fail.renews or ()):
            bench.step, bench.verb, bench.at = index, verb, at
            bench.state.now = dict(before[index + 1])
            stuck = [m for m in bench.graph.members(name) if not _renewable(bench, m, index)]
            if stuck:
                others = {o for m in stuck for o in (*bench.state.blockers(m), *bench.state.holding(m))}
                past = tuple(c for m in stuck for c in bench.changes if c.member == m and c.step <= index)[-1:]
                bench.faults.append(Fault("renewal-out-of-reach", index, verb, at, tuple(stuck),
                                          tuple(m for m in bench.graph.nodes if m in others), past))  # fmt: skip
    bench.state.now = dict(before[-1])


def _fails(step: Step, limits: Mapping[str, Limit]) -> Iterator[tuple[str, Fail]]:
    """The step's own; a reading without one has its limits'."""
    yield from ((verb.key, fail) for verb, fail in step.fails)
    if step.measure and not step.measure.fail:
        yield from (("measure", fail) for name in step.measure.of if name in limits and (fail := limits[name].fail))


def _renewable(bench: Bench, member: str, index: int) -> bool:
    """Off now, off later, or to be swapped on the spot: nothing in front of it or of what holds it."""
    state = bench.state
    if state.now[member] in ("off", "unknown"):
        return True
    if any(c.member == member and c.step > index and c.became in ("off", "loose") for c in bench.changes):
        return True
    return not any(_out_of_reach(bench, m) for m in (member, *state.holding(member)))


def _out_of_reach(bench: Bench, member: str) -> bool:
    buried = bench.graph.nodes[member].spec.bench and not bench.state.bench(member)
    return buried or bool(bench.state.blockers(member))


def _ending(bench: Bench) -> None:
    """The end must equal the start; each fault stands where the thing came off."""
    for kind, wanted in (("left-off", True), ("left-undone", False)):
        grouped: dict[tuple[int, str, int | str], list[Change]] = {}
        for member, node in bench.graph.nodes.items():
            if node.is_part == wanted and not bench.state.complete(member):
                last = bench.state.last[member]
                grouped.setdefault((last.step, last.verb, last.at), []).append(last)
        for (step, verb, at), changes in grouped.items():
            members = tuple(c.member for c in changes)
            bench.faults.append(Fault(kind, step, verb, at, members, (), tuple(changes)))
    for each in WATCHING:
        each.ending(bench)
