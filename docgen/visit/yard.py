"""What does not change while jobs are joined: the engine, the jobs, and what each of them still has to come."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from docgen.club.bench.graph import Graph
from docgen.visit.pieces import Piece, Task, leads


@dataclass
class Yard:
    """What does not change while jobs are joined.

    isolator : the lead that takes the current off the engine, as the model names it
    """

    graph: Graph
    tasks: tuple[Task, ...]
    isolator: str = ""
    later: list[list[frozenset[str]]] = field(init=False)
    reopens: list[list[frozenset[str]]] = field(init=False)
    trivial: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        self.later = [_after(t.pieces, lambda p: (p.key, *(("cures",) if p.cures else ()))) for t in self.tasks]
        self.reopens = [_after(t.pieces, lambda p: (m for m, _ in p.moves) if p.opens else ()) for t in self.tasks]
        self.trivial = frozenset((*leads(self.graph), *self.graph.members(self.isolator)))
        self._related: dict[str, frozenset[str]] = {}

    def related(self, member: str) -> frozenset[str]:
        """What lies before or behind a member, holds it, or rides with it."""
        if member not in self._related:
            graph = self.graph
            found = {*graph.covers[member], *graph.covered[member], *graph.holds[member], *graph.held_by[member]}
            self._related[member] = frozenset(found | {*graph.carried[member], *graph.carriers[member]})
        return self._related[member]


def _after(pieces: Sequence[Piece], of: Callable[[Piece], Iterable[str]]) -> list[frozenset[str]]:
    """What the pieces from each place on have, place by place."""
    found: list[frozenset[str]] = [frozenset()]
    for piece in reversed(pieces):
        found.append(found[-1] | frozenset(of(piece)))
    return found[::-1]
