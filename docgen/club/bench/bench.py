"""What the verbs are carried out with, one member at a time.

After a fault the thing at fault is taken to be as it should: its condition becomes unknown, which
satisfies everything until the next verb that moves it. So a cause is reported once.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from docgen.club.bench.faults import Fault
from docgen.club.bench.graph import Graph
from docgen.club.bench.state import Change, Condition, State
from docgen.club.schema.model import Fastener
from docgen.club.verbs.verb import Verb


@dataclass
class Bench:
    """An engine under work: its state, what was changed, what went wrong; the verbs that look on as others work.

    was : how each member stood before the present step
    """

    graph: Graph
    verbs: tuple[Verb, ...] = ()
    state: State = field(init=False)
    changes: list[Change] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    step: int = 0
    verb: str = "undoes"
    at: int | str = 0
    was: Mapping[str, Condition] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.state = State(self.graph)

    def each(self, verb: str, names: Iterable[str]) -> Iterator[str]:
        """The members that a verb of the present step lists, in order, while they are worked on."""
        self.verb = verb
        for self.at, name in enumerate(names):
            yield from self.graph.members(name)

    def note(self, verb: str, names: Iterable[str], at: int | str, with_: str) -> None:
        """Write down what moves nothing, as a cleaning or a material put on."""
        self.verb, self.at = verb, at
        for member in self.graph.each(names):
            self.on_the_bench(member)
            self.change(member, self.state.now[member], with_, moves=False)

    def load(self, verb: str, members: Iterable[str]) -> None:
        """Load some members: they must be on and tight."""
        self.verb, self.at = verb, 0
        open_ = [m for m in members if not self.state.complete(m)]
        if open_:
            self.fault("run-unfinished", [], open_)

    def fault(self, kind: str, members: Iterable[str], others: Iterable[str] = ()) -> None:
        """Note a fault, and take what stands in the way to be as it should."""
        about, blamed = tuple(members), tuple(others)
        past = [self.state.last[m] for m in (*about, *blamed) if m in self.state.last]
        found = Fault(kind, self.step, self.verb, self.at, about, blamed, tuple(past))
        last = self.faults[-1] if self.faults else None
        if last and (last.kind, last.step, last.verb, last.others) == (kind, self.step, self.verb, ()) and not blamed:
            self.faults[-1] = replace(last, members=last.members + about, past=last.past + found.past)
        else:
            self.faults.append(found)
        for member in blamed:
            self.state.now[member] = "unknown"

    def found(self, kind: str, members: Iterable[str], others: Iterable[str], past: Iterable[Change] = ()) -> None:
        """Note a fault that leaves everything as it stands."""
        self.faults.append(Fault(kind, self.step, self.verb, self.at, tuple(members), tuple(others), tuple(past)))

    def open(self, member: str) -> bool:
        """Whether it is off before the present step or now: a step may open and measure, or measure and close."""
        return any(self.state.released(member, now) for now in (self.was, self.state.now))

    def hiding(self, member: str) -> tuple[str, ...]:
        """What hides a member from sight, before the present step and now; what is off lies in plain sight."""
        return min((self.state.hiding(member, now) for now in (self.was, self.state.now)), key=len)

    def off(self, member: str) -> None:
        """Undo it, or take it off."""
        if self.state.off(member):
            self.fault("already-off", [member])
            return
        if not self.state.unknown(member):
            self._reach(member)
            held = self.state.holding(member)
            if held:
                self.fault("held", [member], held)
        spec = self.graph.nodes[member].spec
        loosened = isinstance(spec, Fastener) and spec.releases == "loose" and self.state.now[member] != "loose"
        self.state.fresh.discard(member)
        self.change(member, "loose" if loosened else "off")

    def on(self, member: str, *, new: bool = False) -> None:
        """Put a part on."""
        condition = self.state.now[member]
        if condition == "on":
            self.fault("already-on", [member])
            return
        if new:
            self.state.fresh.add(member)
        if condition != "unknown":
            self._reach(member)
            self._closing(member)
            self._used_again(member)
        self.state.fresh.discard(member)
        self.change(member, "on")

    def renew_fastener(self, member: str) -> None:
        """Have a new one in its place, not yet on."""
        if self.state.now[member] not in ("off", "unknown"):
            self.fault("already-on", [member])
            return
        if member in self.state.fresh:
            self.fault("already-new", [member])
        self.state.fresh.add(member)
        self.change(member, "off")

    def do_up(self, member: str, *, starting: bool = False, again: bool = False) -> None:
        """Start a fastener by hand, or tighten it."""
        condition = self.state.now[member]
        if again and condition not in ("tight", "unknown"):
            self.fault("not-yet-tight", [member])
        elif (condition == "tight" and not again) or (condition == "started" and starting):
            self.fault("already-tight", [member])
            return
        if condition != "unknown":
            self._reach(member)
            missing = [p for p in self.graph.holds[member] if self.state.off(p)]
            if missing:
                behind = [m for p in missing for m in self.state.open_behind(p)]
                self.fault("nothing-to-hold", [member], dict.fromkeys([*missing, *behind]))
        if condition == "off":
            self._closing(member)
            self._used_again(member)
        if condition in ("off", "loose", "unknown"):
            self.state.fresh.discard(member)
        self.change(member, "started" if starting else "tight")

    def all_started(self, members: Sequence[str]) -> None:
        """Where all of a group are started first, none may be off when the first is tightened."""
        spec = self.graph.nodes[members[0]].spec if members else None
        if not isinstance(spec, Fastener) or not spec.start_all_first:
            return
        group = self.graph.members(self.graph.nodes[members[0]].item)
        waiting = [m for m in group if self.state.off(m)]
        if waiting and len(group) > 1:
            self.fault("not-all-started", waiting)
            for member in waiting:
                self.state.now[member] = "unknown"

    def _reach(self, member: str) -> None:
        self.on_the_bench(member)
        blockers = self.state.blockers(member)
        if blockers:
            self.fault("covered", [member], blockers)

    def on_the_bench(self, member: str) -> None:
        """What is worked on only off the engine must be off it."""
        carriers = self.graph.carriers[member]
        on_engine = carriers and all(not self.state.off(c) and not self.state.unknown(c) for c in carriers)
        if self.graph.nodes[member].spec.bench and on_engine:
            self.fault("bench-only", [member], carriers[:1])

    def _closing(self, member: str) -> None:
        for verb in self.verbs:
            verb.closing(self, member)
        behind = self.state.open_behind(member)
        if behind:
            self.fault("closed-too-soon", [member], behind)
        within = self.state.within(member)
        if within:
            self.fault("incomplete", [member], within)

    def _used_again(self, member: str) -> None:
        if self.graph.nodes[member].spec.single_use and member not in self.state.fresh:
            self.fault("used-again", [member])

    def change(self, member: str, became: Condition, with_: str = "", *, moves: bool = True) -> None:
        """Write down that the present verb met a member."""
        change = Change(self.step, self.verb, member, self.at, became, with_)
        self.changes.append(change)
        if moves:
            self.state.now[member] = became
            self.state.last[member] = change
