"""The state of the engine while it is worked on, and the record of what changed it."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field
from typing import Literal

from docgen.club.bench.graph import Graph

Condition = Literal["on", "off", "tight", "loose", "started", "unknown"]
"""Parts are on or off; fasteners tight, loose, started or off. Unknown: a fault was found, and either will do."""


@dataclass(frozen=True)
class Change:
    """One member met by one verb.

    step : index of the step                        at     : index in the verb's list, or its key
    with_: the material, or what is put into it       became : condition afterwards (as before, where nothing moves)
    """

    step: int
    verb: str
    member: str
    at: int | str
    became: Condition
    with_: str = ""


@dataclass
class State:
    """What is on, off, tight, loose or started; which single-use parts are new; what lies in which opening
    (None: it was emptied again)."""

    graph: Graph
    now: dict[str, Condition] = field(default_factory=dict)
    fresh: set[str] = field(default_factory=set)
    last: dict[str, Change] = field(default_factory=dict)
    packed: dict[str, Change | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.now = {m: "on" if node.is_part else "tight" for m, node in self.graph.nodes.items()}

    def unknown(self, member: str) -> bool:
        """Whether a fault has left open how it stands."""
        return self.now[member] == "unknown"

    def off(self, member: str) -> bool:
        """Whether it is surely off."""
        return self.now[member] == "off"

    def complete(self, member: str) -> bool:
        """Whether it is on, tight, or as good as."""
        return self.now[member] in ("on", "tight", "unknown")

    def bench(self, member: str) -> str:
        """The assembly on the bench that it belongs to: the nearest carrier that is off; empty for the engine."""
        return next((c for c in self.graph.carriers[member] if self.now[c] == "off"), "")

    def blockers(self, member: str) -> tuple[str, ...]:
        """What lies in front of it and is not off; things of another assembly are not in the way."""
        here = self.bench(member)
        return tuple(
            c for c in self.graph.covers[member] if self.now[c] not in ("off", "unknown") and self.bench(c) == here
        )

    def open_behind(self, member: str) -> tuple[str, ...]:
        """What lies behind it and is not on and tight."""
        here = self.bench(member)
        return tuple(m for m in self.graph.covered[member] if not self.complete(m) and self.bench(m) == here)

    def within(self, member: str) -> tuple[str, ...]:
        """What can only be reached while `member` is off, and is not on and tight."""
        return tuple(m for m in self.graph.carried[member] if self.graph.nodes[m].spec.bench and not self.complete(m))

    def holding(self, part: str) -> tuple[str, ...]:
        """The fasteners that still hold a part."""
        return tuple(f for f in self.graph.held_by[part] if not self.released(f, self.now))

    def copied(self) -> State:
        """The same, to go on from apart."""
        new = copy(self)
        new.now, new.fresh, new.last, new.packed = dict(self.now), set(self.fresh), dict(self.last), dict(self.packed)
        return new

    def released(self, member: str, now: Mapping[str, Condition]) -> bool:
        """Whether it is off, or so loose that it holds nothing, as things stand in `now`."""
        loose = getattr(self.graph.nodes[member].spec, "releases", "off") == "loose"
        return now[member] in ("off", "unknown") or (loose and now[member] == "loose")

    def hiding(self, member: str, now: Mapping[str, Condition]) -> tuple[str, ...]:
        """What hides a member from sight as things stand in `now`; what is off lies in plain sight."""
        if now[member] in ("off", "unknown"):
            return ()
        then = copy(self)
        then.now = dict(now)
        inside = self.graph.nodes[member].spec.bench and not then.bench(member)
        return then.blockers(member) or (self.graph.carriers[member][:1] if inside else ())
