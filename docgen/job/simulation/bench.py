"""The verbs carried out, one member at a time.

After a fault the thing at fault is taken to be as it should: its condition becomes unknown, which
satisfies everything until the next verb that moves it. So a cause is reported once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from docgen.club.schema.model import Fastener
from docgen.job.graph import Graph
from docgen.job.simulation.faults import Fault, Kind
from docgen.job.simulation.state import Change, Condition, State, Verb


@dataclass
class Bench:
    """An engine under work: its state, what was changed, what went wrong."""

    graph: Graph
    state: State = field(init=False)
    changes: list[Change] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    step: int = 0
    verb: Verb = "undoes"
    at: int | str = 0

    def __post_init__(self) -> None:
        self.state = State(self.graph)

    def do(self, verb: Verb, names: Sequence[str], *, again: bool = False) -> None:
        """Carry out one verb of the present step on what it lists, in order."""
        if not names:
            return
        self.verb = verb
        for self.at, name in enumerate(names):
            members = self.graph.members(name)
            if verb == "tightens":
                self._group_started(members)
            for member in members:
                self._one(member, again)

    def note(self, verb: Verb, names: Iterable[str], at: int | str, with_: str) -> None:
        """Write down a cleaning, a material put on, or an opening packed."""
        self.verb, self.at = verb, at
        for member in self.graph.each(names):
            if verb != "packs":
                self._on_the_bench(member)
            self._change(member, self.state.now[member], with_)
            if verb == "packs":
                self.state.packed[member] = self.changes[-1]

    def clear(self, names: Iterable[str]) -> None:
        """Empty some openings; to look into one that is empty is no fault."""
        self.verb = "clears"
        for self.at, name in enumerate(names):
            for member in self.graph.members(name):
                if self.state.packed.pop(member, None):
                    self._change(member, self.state.now[member])

    def turn(self, verb: Verb, names: Sequence[str]) -> None:
        """Turn something by hand, or run the engine: nothing that it meets may be packed."""
        self.verb = verb
        for self.at, name in enumerate(names):
            for member in self.graph.members(name):
                self._packed("packed-turned", [member], self.state.meeting(member))

    def run(self) -> None:
        """Run the engine: everything is on and tight, and nothing is packed."""
        self.load("runs", self.graph.nodes)
        self._packed("packed-turned", [], list(self.state.packed))

    def load(self, verb: Verb, members: Iterable[str]) -> None:
        """Load some members: they must be on and tight."""
        self.verb, self.at = verb, 0
        open_ = [m for m in members if not self.state.complete(m)]
        if open_:
            self.fault("run-unfinished", [], open_)

    def fault(self, kind: Kind, members: Iterable[str], others: Iterable[str] = ()) -> None:
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

    def _one(self, member: str, again: bool) -> None:
        part = self.graph.nodes[member].is_part
        if self.verb in ("undoes", "removes"):
            self._off(member)
        elif self.verb in ("fits", "renews") and part:
            self._on(member)
        elif self.verb == "renews":
            self._renew_fastener(member)
        else:
            self._done_up(member, again)

    def _off(self, member: str) -> None:
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
        self._change(member, "loose" if loosened else "off")

    def _on(self, member: str) -> None:
        condition = self.state.now[member]
        if condition == "on":
            self.fault("already-on", [member])
            return
        if self.verb == "renews":
            self.state.fresh.add(member)
        if condition != "unknown":
            self._reach(member)
            self._closing(member)
            self._used_again(member)
        self.state.fresh.discard(member)
        self._change(member, "on")

    def _renew_fastener(self, member: str) -> None:
        if self.state.now[member] not in ("off", "unknown"):
            self.fault("already-on", [member])
            return
        if member in self.state.fresh:
            self.fault("already-new", [member])
        self.state.fresh.add(member)
        self._change(member, "off")

    def _done_up(self, member: str, again: bool) -> None:
        condition = self.state.now[member]
        starting = self.verb != "tightens"
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
        self._change(member, "started" if starting else "tight")

    def _group_started(self, members: Sequence[str]) -> None:
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
        self._on_the_bench(member)
        blockers = self.state.blockers(member)
        if blockers:
            self.fault("covered", [member], blockers)

    def _on_the_bench(self, member: str) -> None:
        carriers = self.graph.carriers[member]
        on_engine = carriers and all(not self.state.off(c) and not self.state.unknown(c) for c in carriers)
        if self.graph.nodes[member].spec.bench and on_engine:
            self.fault("bench-only", [member], carriers[:1])

    def _packed(self, kind: Kind, members: Sequence[str], openings: Sequence[str]) -> None:
        past = [self.state.packed.pop(opening) for opening in openings]
        if past:
            self.faults.append(Fault(kind, self.step, self.verb, self.at, tuple(members), tuple(openings), tuple(past)))

    def _closing(self, member: str) -> None:
        self._packed("packed-closed", [member], [member] if member in self.state.packed else [])
        behind = self.state.open_behind(member)
        if behind:
            self.fault("closed-too-soon", [member], behind)
        within = self.state.within(member)
        if within:
            self.fault("incomplete", [member], within)

    def _used_again(self, member: str) -> None:
        if self.graph.nodes[member].spec.single_use and member not in self.state.fresh:
            self.fault("used-again", [member])

    def _change(self, member: str, became: Condition, with_: str = "") -> None:
        change = Change(self.step, self.verb, member, self.at, became, with_)
        self.changes.append(change)
        if self.verb not in ("cleans", "applies", "packs", "clears"):
            self.state.now[member] = became
            self.state.last[member] = change
