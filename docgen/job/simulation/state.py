"""The state of the engine while it is worked on, and the record of what changed it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from docgen.job.graph import Graph

Condition = Literal["on", "off", "tight", "loose", "started", "unknown"]
"""Parts are on or off; fasteners tight, loose, started or off. Unknown: a fault was found, and either will do."""

Verb = Literal[
    "undoes", "removes", "cleans", "applies", "fits", "renews", "starts", "tightens", "packs", "clears", "turns",
    "look", "measure", "loads", "runs",
]  # fmt: skip
"""What a step does, as its key is written."""


@dataclass(frozen=True)
class Change:
    """One member met by one verb.

    step : index of the step                        at     : index in the verb's list, or its key
    with_: the material, for cleans/applies/packs   became : condition afterwards (as before, where nothing moves)
    """

    step: int
    verb: Verb
    member: str
    at: int | str
    became: Condition
    with_: str = ""


@dataclass
class State:
    """What is on, off, tight, loose or started; which single-use parts are new; what lies in which opening."""

    graph: Graph
    now: dict[str, Condition] = field(default_factory=dict)
    fresh: set[str] = field(default_factory=set)
    last: dict[str, Change] = field(default_factory=dict)
    packed: dict[str, Change] = field(default_factory=dict)

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
        return tuple(f for f in self.graph.held_by[part] if not self._released(f))

    def meeting(self, turned: str) -> tuple[str, ...]:
        """The packed openings that lead to what is turned.

        An opening leads to all that lies behind what closes it, as long as the part next behind it is on: a cloth in
        the cylinder's port goes to the bench with the cylinder.
        """
        leading = [opening for opening in self.packed if opening in self.graph.covers[turned]]
        on = [node for m, node in self.graph.nodes.items() if leading and self.complete(m)]
        return tuple(o for o in leading if any(o in self.graph.each(node.spec.behind) for node in on))

    def _released(self, fastener: str) -> bool:
        condition = self.now[fastener]
        releases = getattr(self.graph.nodes[fastener].spec, "releases", "off")
        return condition in ("off", "unknown") or (condition == "loose" and releases == "loose")
