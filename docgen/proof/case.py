"""What a rule looks at: one job simulated on one engine type or engine, a file as written, a model, an engine."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from docgen.club.bench.faults import Fault, FaultRule, Words, is_are, named
from docgen.club.bench.state import Change
from docgen.club.content import content_digest
from docgen.club.folder import EngineRecord, Read
from docgen.club.schema.club import Club
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import VERBS, Procedure, Sequence, Step
from docgen.club.yamldoc import Document, Loc
from docgen.job.expand import Placed, own_steps, used
from docgen.job.figures import Figures
from docgen.job.fluids import fluid_faults
from docgen.job.rows import InRow, rows_of
from docgen.job.simulate import Run
from docgen.proof.finding import Finding, Findings
from docgen.proof.releases import Release

__all__ = ["Case", "Finding", "Findings", "Owned", "Typed", "Written", "place"]


@dataclass(frozen=True, eq=False)
class Case:
    """One job carried out on one engine type, or on the very engine.

    run    : what the simulation saw            figures: the engine's figures, deviations included
    on     : the day, where one was given       messages: the safety messages, those of sequences too
    optional: equipment without which the job is to be tried too
    others : the club's other engine types
    """

    procedure: Read[Procedure]
    model: Read[Model]
    club: Read[Club]
    run: Run
    figures: Figures
    messages: tuple[Placed, ...]
    sequences: Mapping[str, Read[Sequence]]
    on: date | None = None
    optional: frozenset[str] = frozenset()
    others: tuple[Model, ...] = ()

    @property
    def steps(self) -> Iterator[tuple[int, Step]]:
        """The steps in order, each with its index."""
        return ((index, placed.step) for index, placed in enumerate(self.run.steps))

    @cached_property
    def rows(self) -> list[InRow]:
        """Where each step stands on the bench leaf; none where the job says nothing of rows, and each step is one."""
        placed = self.run.steps
        return rows_of(placed, self.figures) if any(one.row or one.adds for one in placed) else []

    def faults(self, kind: str) -> Iterator[Fault]:
        """The simulation's faults of one kind."""
        return (fault for fault in (*self.run.faults, *self._of_fluids) if fault.kind == kind)

    def puts_on(self, change: Change, kinds: Container[str]) -> bool:
        """Whether a material of one of the kinds is put on; a fluid that is used to take a reading is not."""
        step = self.run.steps[change.step].step
        return change.verb == "applies" and self.kind(change.with_) in kinds and not (
            step.finds or step.sets or step.measure)  # fmt: skip

    @cached_property
    def _of_fluids(self) -> tuple[Fault, ...]:
        return tuple(fluid_faults(self.run, self.model.value.fluids))

    def named(self, members: Iterable[str]) -> str:
        """Members in words: `washer, drum and head-nuts`."""
        return named(self.run.graph, members)

    def finding(self, step: int, keys: Loc, message: str, hint: str = "", trail: Iterable[str] = ()) -> Finding:
        """A finding in a step, at the place of `keys` below it."""
        placed = self.run.steps[step]
        return Finding(placed.document, (*placed.loc, *keys), message, hint, tuple(trail))

    def at(self, change: Change, message: str, hint: str, past: Iterable[Change] = ()) -> Finding:
        """A finding where something was done, with what led there."""
        return self.finding(change.step, (change.verb, change.at), message, hint, self.past(past, change.step))

    def of(self, fault: Fault, rule: FaultRule) -> Finding:
        """A fault as its rule tells it, at its place; the trail tells what led there.

        In a sequence that the job uses more than once, the fault is that of the step which uses it there.
        """
        past = [c for c in fault.past if rule.trail == "past" or c.member in fault.others]
        told = self.past(past, fault.step) if rule.trail != "none" else ()
        since = self.step_line(fault.since, fault.step) if fault.since is not None else ""
        words = Words(fault, self.run.graph, self._subject(fault), VERBS[fault.verb].done, since, bool(told),
                      self.run.changes)  # fmt: skip
        message, hint = rule.message(words), rule.hint(words)
        told = (*told, *filter(None, [rule.also(words)]))
        placed = self.run.steps[fault.step]
        if not placed.used_as or placed.user is None or placed.used_as not in self._used_often:
            return self.finding(fault.step, place(fault.verb, fault.at), message, hint, told)
        document, loc = placed.user
        inside = f"it goes wrong at {self.line(fault.step, fault.verb, fault.at, fault.step)} of {placed.document.path}"
        return Finding(document, (*loc, "use"), message, hint, (inside, *told))

    @cached_property
    def _used_often(self) -> frozenset[str]:
        """The sequences that the job uses more than once on this type."""
        users = {(one.used_as, one.user[1]) for one in self.run.steps if one.used_as and one.user}
        return frozenset(name for name, number in Counter(name for name, _ in users).items() if number > 1)

    def _subject(self, fault: Fault) -> str:
        """What a fault is about, as the step writes it: its finding stands for all members of the name."""
        verb, step = VERBS[fault.verb], self.run.steps[fault.step].step
        written = verb.moves and fault.others and isinstance(fault.at, int)
        return str(verb.of(step)[fault.at]) if written else self.named(fault.members)

    def past(self, changes: Iterable[Change], seen_from: int) -> tuple[str, ...]:
        """What happened before: `clutch-drum went off at line 31`, one line for what one verb did."""
        together: dict[tuple[int, str, int | str], list[Change]] = {}
        for change in sorted(changes, key=lambda c: c.step):
            together.setdefault((change.step, change.verb, change.at), []).append(change)
        return tuple(
            f"{self._happened(verb, group)} at {self.line(step, verb, at, seen_from)}"
            for (step, verb, at), group in together.items()
        )

    def _happened(self, verb: str, group: list[Change]) -> str:
        name = self.named(c.member for c in group)
        was = "was" if is_are(self.run.graph.named(c.member for c in group)) == "is" else "were"
        return VERBS[verb].happened.format(name=name, was=was, with_=group[0].with_)

    def step_line(self, step: int, seen_from: int, keys: Loc = ()) -> str:
        """Where a step stands: `line 31`, with the file when it is another one than that of step `seen_from`."""
        placed = self.run.steps[step]
        number = placed.document.at((*placed.loc, *keys))[0]
        other = placed.document.path != self.run.steps[seen_from].document.path
        return f"line {number}" + (f" of {placed.document.path}" if other else "")

    def line(self, step: int, verb: str, at: int | str, seen_from: int) -> str:
        """The same of a verb in it."""
        return self.step_line(step, seen_from, place(verb, at))

    def kind(self, material: str) -> str:
        """The kind of a material of the register; empty for one that it does not have."""
        found = self.club.value.materials.get(material)
        return found.kind if found else ""


def place(verb: str, at: int | str) -> Loc:
    """The way from a step to what one verb says."""
    if verb in ("runs", "loads"):
        return (verb,)
    return (verb, "fail", "renews", at) if verb in ("look", "measure") else (verb, at)


@dataclass(frozen=True)
class Written:
    """A procedure or a sequence as its file says it, for the rules about words."""

    value: Procedure | Sequence
    document: Document
    club: Read[Club]
    sequences: Mapping[str, Read[Sequence]]
    jobs: Mapping[str, Read[Procedure]]
    released: Release | None = None

    @property
    def digest(self) -> str:
        """The digest of what the file says."""
        return content_digest(self.document)

    @cached_property
    def steps(self) -> tuple[tuple[Loc, Step], ...]:
        """Its own steps, each with its place; those that use a sequence left out."""
        return tuple(own_steps(self.value))

    @cached_property
    def with_sequences(self) -> tuple[tuple[Loc, Step], ...]:
        """Its steps, those of the sequences that it uses among them."""
        value = self.value
        if isinstance(value, Sequence):
            return self.steps
        known = [self.sequences[name].value for name in used(value) if name in self.sequences]
        inner = [step for sequence in known for step in sequence.steps]
        return (*self.steps, *((("use",), step) for step in inner))

    def job(self, name: str) -> Written | None:
        """Another job of the club as its file says it."""
        read = self.jobs.get(name)
        return replace(self, value=read.value, document=read.document, released=None) if read else None

    def finding(self, loc: Loc, message: str, hint: str = "", *, key: bool = False) -> Finding:
        """A finding in this file."""
        return Finding(self.document, loc, message, hint, key=key)


@dataclass(frozen=True)
class Typed:
    """An engine type, with the club's registers and the other types."""

    model: Read[Model]
    club: Read[Club]
    others: tuple[Read[Model], ...] = ()

    def finding(self, loc: Loc, message: str, hint: str = "", trail: tuple[str, ...] = (), *, key: bool = False
                ) -> Finding:  # fmt: skip
        """A finding in the model's file."""
        return Finding(self.model.document, loc, message, hint, trail, key)


@dataclass(frozen=True)
class Owned:
    """One engine with its record, on a day."""

    record: EngineRecord
    model: Read[Model]
    figures: Figures
