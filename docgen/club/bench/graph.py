"""The assembly graph of an engine: what covers what, what holds what, what rides along with what.

Parts and fasteners share one space of names. ``count: n`` makes the members ``name/1`` to ``name/n``;
the bare name means all of them, in order. A part that an engine was left without is not in its graph.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import copy
from dataclasses import dataclass
from functools import cached_property

from docgen.club.schema.model import Fastener, Item, Model, Part

MOST = 99
"""Most members of one item: more cannot be named (`head-nuts/99`)."""


@dataclass(frozen=True)
class Node:
    """One member: its own name, the item it is one of, the item's line in the model, and whether it comes off and
    goes on (else it is undone and done up)."""

    name: str
    item: str
    spec: Part | Fastener
    is_part: bool


class Graph:
    """The members of one engine and how they lie to each other.

    nodes   : member name -> node, parts first, in the model's order
    left_out: items that this engine does not have; what they lay behind still lies behind what covered them
    """

    def __init__(self, model: Model, left_out: Iterable[str] = ()) -> None:
        self.left_out = frozenset(left_out)
        self._whole: Graph | None = Graph(model) if self.left_out else None
        items: dict[str, Part | Fastener] = {**model.parts, **model.fasteners}
        self._members = {name: _numbered(name, item) for name, item in items.items() if name not in self.left_out}
        both = ((m, name) for name, members in self._members.items() for m in members)
        self.nodes = {m: Node(m, name, items[name], name in model.parts) for m, name in both}

    def without(self, items: Iterable[str]) -> Graph:
        """The same engine without some items."""
        found = copy(self)
        found._whole = self._whole or self
        found.left_out = self.left_out | frozenset(items)
        found._members = {name: members for name, members in self._members.items() if name not in found.left_out}
        found.nodes = {m: node for m, node in self.nodes.items() if node.item not in found.left_out}
        for derived in ("covers", "covered", "held_by", "holds", "carriers", "carried"):
            found.__dict__.pop(derived, None)
        return found

    def members(self, name: str) -> tuple[str, ...]:
        """The members that a name means; none for a name that this engine does not have."""
        if name in self._members:
            return self._members[name]
        return (name,) if name in self.nodes else ()

    def each(self, names: Iterable[str]) -> tuple[str, ...]:
        """The members that several names mean, in order, each once."""
        return tuple(dict.fromkeys(m for name in names for m in self.members(name)))

    @cached_property
    def covers(self) -> Mapping[str, tuple[str, ...]]:
        """member -> all that must be off before it can move: what it is ``behind``, and what that is behind."""
        if self._whole:
            covers = self._whole.covers
            return {m: tuple(c for c in covers[m] if c in self.nodes) for m in self.nodes}
        direct = {m: self.each(node.spec.behind) for m, node in self.nodes.items()}
        reached = {m: _reached(m, direct) for m in self.nodes}
        order = {m: i for i, m in enumerate(self.nodes)}
        return {m: tuple(sorted(found, key=order.__getitem__)) for m, found in reached.items()}

    @cached_property
    def covered(self) -> Mapping[str, tuple[str, ...]]:
        """member -> all that lies behind it, in the model's order."""
        return _turned_round(self.covers)

    @cached_property
    def held_by(self) -> Mapping[str, tuple[str, ...]]:
        """part -> the fasteners that hold it."""
        return {m: self.each(n.spec.held_by) if isinstance(n.spec, Part) else () for m, n in self.nodes.items()}

    @cached_property
    def holds(self) -> Mapping[str, tuple[str, ...]]:
        """fastener -> the parts that it holds."""
        return _turned_round(self.held_by)

    @cached_property
    def carriers(self) -> Mapping[str, tuple[str, ...]]:
        """member -> what it is part of, and what that is part of, from the inside out."""
        if self._whole:
            carriers = self._whole.carriers
            return {m: tuple(c for c in carriers[m] if c in self.nodes) for m in self.nodes}
        return {m: self._carriers(m) for m in self.nodes}

    @cached_property
    def carried(self) -> Mapping[str, tuple[str, ...]]:
        """part -> all that rides along when it moves."""
        return _turned_round(self.carriers)

    def named(self, members: Iterable[str]) -> tuple[str, ...]:
        """Members as a reader would say them: all of an item's members become its bare name."""
        wanted = dict.fromkeys(members)
        names: dict[str, None] = {}
        for member in wanted:
            node = self.nodes.get(member)
            whole = node is not None and all(m in wanted for m in self._members[node.item])
            names[node.item if node is not None and whole else member] = None
        return tuple(names)

    def _carriers(self, member: str) -> tuple[str, ...]:
        found: list[str] = []
        node = self.nodes[member]
        while node.spec.part_of:
            parents = self.members(node.spec.part_of)
            if not parents:
                break
            siblings = self._members[node.item]
            same = len(parents) == len(siblings)
            parent = parents[siblings.index(node.name)] if same else parents[0]
            if parent in found or parent == member:
                break
            found.append(parent)
            node = self.nodes[parent]
        return tuple(found)


def _numbered(name: str, item: Item) -> tuple[str, ...]:
    return (name,) if item.count <= 1 else tuple(f"{name}/{i}" for i in range(1, min(item.count, MOST) + 1))


def _turned_round(relation: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """By each member, those that name it."""
    found: dict[str, list[str]] = {member: [] for member in relation}
    for member, others in relation.items():
        for other in others:
            found[other].append(member)
    return {member: tuple(named) for member, named in found.items()}


def _reached(start: str, direct: Mapping[str, tuple[str, ...]]) -> set[str]:
    found: set[str] = set()
    stack = list(direct[start])
    while stack:
        member = stack.pop()
        if member not in found and member != start:
            found.add(member)
            stack += direct[member]
    return found
