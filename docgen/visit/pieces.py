"""A job as pieces: each step with what it moves, what it records, and how the engine stands as its job reaches it.

A piece that moves nothing is work; the others open (undo, take off) or close (put on, start, tighten).
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Condition
from docgen.club.schema.model import Fastener
from docgen.club.schema.procedure import Step
from docgen.job.expand import PlacedStep
from docgen.job.simulate import Run
from docgen.trade.clock import duration
from docgen.trade.quantity import Quantity

WHOLE = ("on", "tight")
_WORDS = {"row", "adds", "alone", "why", "takes", "tools", "off_leaf", "silences", "only_with"}


@dataclass(frozen=True)
class Piece:
    """One step of one job.

    key    : what it says and does; steps of two jobs with one key are the same work
    moves  : member and condition afterwards, for all that it moves
    before : the condition of every member as the job, done alone, reaches it
    beside : the members moved by the piece before it, and opened by the piece after it
    """

    placed: PlacedStep
    key: str
    moves: tuple[tuple[str, Condition], ...]
    before: Mapping[str, Condition]
    named: frozenset[str]
    beside: frozenset[str]
    items: tuple[str, ...]

    @property
    def step(self) -> Step:
        return self.placed.step

    @cached_property
    def opens(self) -> bool:
        """Whether it undoes something or takes it off."""
        return bool(self.step.undoes or self.step.removes) and bool(self.moves)

    @cached_property
    def records(self) -> bool:
        """Whether it has anything besides what it moves."""
        return self.step.again or any(verb.stands for verb in self.step.verbs)

    @cached_property
    def signed(self) -> bool:
        """Whether it leaves anything on the signed sheet."""
        return any(True for _ in recorded(self.step))

    @cached_property
    def seconds(self) -> int:
        """How long the hands are busy with it."""
        takes = self.step.takes
        return 0 if takes is None or self.step.wait else round(duration(takes).total_seconds())

    @cached_property
    def open(self) -> frozenset[str]:
        """What is not on and tight as its job reaches it."""
        return frozenset(m for m, condition in self.before.items() if condition not in WHOLE)

    @cached_property
    def cures(self) -> Quantity | None:
        """The time of a wait for what cures: the longest of several jobs serves them all."""
        wait = self.step.wait
        bare = not any(verb.stands for verb in self.step.verbs if verb.key != "wait")
        return wait.for_ if wait is not None and bare and wait.cures else None

    def stands_for(self, other: Piece) -> bool:
        """Whether another job's piece needs not be done once this one is: nothing is lost of what that one holds."""
        if self.key == other.key:
            return True
        if self.cures is not None and other.cures is not None:
            return self.cures >= other.cures
        renewed = set(other.step.renews) <= set(self.step.renews)
        return not other.records and renewed and set(other.moves) <= set(self.moves)


@dataclass(frozen=True)
class Task:
    """One job that is to be joined with others."""

    name: str
    pieces: tuple[Piece, ...]

    @property
    def removals(self) -> int:
        """How often something is undone or taken off; the members of one item that go in one step count once."""
        return sum(len(piece.items) for piece in self.pieces)

    @property
    def seconds(self) -> int:
        """How long the hands are busy."""
        return sum(piece.seconds for piece in self.pieces)


def task_of(name: str, run: Run) -> Task:
    """A job's pieces, from its own simulation."""
    moves = [tuple(_moved(run, index)) for index, _ in enumerate(run.steps)]
    opening = [bool(one.step.undoes or one.step.removes) for one in run.steps]
    pieces = []
    for index, placed in enumerate(run.steps):
        step, graph = placed.step, run.graph
        last = next((moves[n] for n in range(index - 1, -1, -1) if moves[n]), ())
        after = next((n for n in range(index + 1, len(run.steps)) if moves[n]), None)
        nearby = (*last, *(moves[after] if after is not None and opening[after] else ()))
        items = {graph.nodes[m].item for m, became in moves[index] if became in ("off", "loose")}
        pieces.append(
            Piece(
                placed=placed,
                key=_key(step),
                moves=moves[index],
                before=run.before[index],
                named=frozenset(_named(step, graph)),
                beside=frozenset(m for m, _ in nearby),
                items=tuple(sorted(items)) if opening[index] else (),
            )
        )
    return Task(name, tuple(pieces))


def _moved(run: Run, index: int) -> Iterator[tuple[str, Condition]]:
    """Members whose condition the step has changed, with what became of them."""
    was, now = run.before[index], run.before[index + 1]
    yield from ((m, now[m]) for m in now if now[m] != was[m])


def _key(step: Step) -> str:
    words = _WORDS if step.hold or step.repeat else {*_WORDS, "id"}
    return json.dumps(step.model_dump(mode="json", exclude=words, exclude_defaults=True), sort_keys=True)


def _named(step: Step, graph: Graph) -> Iterator[str]:
    """The members that a step speaks of."""
    acting = (verb for verb in step.verbs if verb.turn and verb.defined)
    yield from graph.each(one.name for verb in acting for one in verb.names(step))


def recorded(step: Step) -> Iterator[tuple[str, object]]:
    """What a step leaves on the signed sheet, or does besides moving parts that no other step can do in its stead."""
    for verb in step.verbs:
        if verb.signed:
            yield from ((verb.key, one) for one in verb.recorded(step))


def leads(graph: Graph) -> Iterator[str]:
    """The plug caps and leads that only hang: off, they keep the engine safe and are in nobody's way."""
    yield from (m for m, node in graph.nodes.items() if isinstance(node.spec, Fastener) and node.spec.catch == "lead")


def total(tasks: Sequence[Task]) -> tuple[int, int]:
    """Removals and seconds of several jobs, one after the other."""
    return sum(task.removals for task in tasks), sum(task.seconds for task in tasks)
