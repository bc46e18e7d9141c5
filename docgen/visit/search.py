"""The order in which the jobs' parts are joined: the fewest removals, then the fewest minutes.

Best-first search with a bound that never says too much (A*: Hart, Nilsson and Raphael, 1968; from memory): what is
still to be undone or taken off at least once, and work that still has to be done by at least one job. The first whole
list that it comes to is then the cheapest. Where it has looked at more states than allowed, it goes on from the
bound's side only (greedy best-first), and says that the fewest was not proved.
"""

from __future__ import annotations

import heapq
from collections import Counter, defaultdict
from dataclasses import dataclass
from itertools import count

from docgen.visit.floor import Floor, Line, Yard
from docgen.visit.pieces import WHOLE

EXACT = 8
"""Up to so many jobs the fewest is looked for until it is proved, within ``STATES``; beyond, greedily after ``FEW``."""
STATES, FEW = 20_000, 400
REMOVAL = 10_000_000
"""One removal outweighs any time: 10 million seconds."""


@dataclass(frozen=True)
class Order:
    """The joined list. ``proved``: no order has fewer removals, nor as few and less time."""

    lines: tuple[Line, ...]
    removals: int
    seconds: int
    proved: bool
    looked_at: int


def cheapest(yard: Yard, states: int = STATES) -> Order | None:
    """The cheapest joined list; None where none keeps what every job needs."""
    bound = Bound(yard)
    first = Floor.start(yard)
    first.settle()
    limit = states if len(yard.tasks) <= EXACT else min(states, FEW)
    found, looked = _search(first, bound, limit, greedy=False)
    if found is None and looked >= limit:
        found, more = _search(first, bound, states, greedy=True)
        return _order(found, False, looked + more)
    return _order(found, True, looked)


def _order(found: Floor | None, proved: bool, looked: int) -> Order | None:
    return Order(tuple(found.lines), found.removals, found.seconds, proved, looked) if found else None


def _search(first: Floor, bound: Bound, limit: int, *, greedy: bool) -> tuple[Floor | None, int]:
    """The first whole list that the search comes to, and how many states it has looked at."""
    ticket = count(0, -1)  # of equals the newest first: straight on to the end
    queue = [(bound.of(first), next(ticket), first)]
    seen: dict[object, int] = {}
    looked = 0
    while queue and looked < limit:
        _, _, floor = heapq.heappop(queue)
        if floor.finished:
            return floor, looked
        looked += 1
        for choice in reversed([*floor.choices()]):
            new = floor.after(choice)
            if new is None:
                continue
            cost, place = spent(new), new.place
            if seen.get(place, cost + 1) <= cost:
                continue
            seen[place] = cost
            heapq.heappush(queue, ((0 if greedy else cost) + bound.of(new), next(ticket), new))
    return None, looked


def spent(floor: Floor) -> int:
    """What the list so far costs, in seconds."""
    return floor.removals * REMOVAL + floor.seconds


class Bound:
    """What the rest costs at least, in seconds."""

    def __init__(self, yard: Yard) -> None:
        self.yard = yard
        together: dict[tuple[bool, str], set[object]] = defaultdict(set)
        for task in yard.tasks:
            for piece in task.pieces:
                for member, _ in piece.moves:
                    together[piece.opens, member].add(piece.moves)
        apart = {key for key, kinds in together.items() if len(kinds) > 1}
        self.least: dict[object, int] = {}
        self.rest: list[list[tuple[Counter[str], Counter[object]]]] = []
        for task in yard.tasks:
            items: Counter[str] = Counter()
            work: Counter[object] = Counter()
            rest = [(Counter(items), Counter(work))]
            for piece in reversed(task.pieces):
                items.update(piece.items)
                mixed = any((piece.opens, member) in apart for member, _ in piece.moves)
                if piece.seconds and not mixed:
                    kind = piece.moves or piece.key
                    self.least[kind] = min(self.least.get(kind, piece.seconds), piece.seconds)
                    work[kind] += 1
                rest.append((Counter(items), Counter(work)))
            self.rest.append(rest[::-1])

    def of(self, floor: Floor) -> int:
        """The least that any way on from here can cost."""
        off = {self.yard.graph.nodes[m].item for m, now in floor.now.items() if now not in WHOLE}
        removals: Counter[str] = Counter()
        work: Counter[object] = Counter()
        for n, at in enumerate(floor.at):
            items, kinds = self.rest[n][at]
            for item, times in items.items():
                removals[item] = max(removals[item], times - (item in off))
            for kind, times in kinds.items():
                work[kind] = max(work[kind], times - self._standing(floor, kind))
        seconds = sum(times * self.least[kind] for kind, times in work.items() if times > 0)
        return removals.total() * REMOVAL + seconds

    def _standing(self, floor: Floor, kind: object) -> bool:
        """Whether one of a kind of work may be counted as done."""
        if isinstance(kind, str):
            return kind in floor.done
        assert isinstance(kind, tuple)
        return all(floor.now[member] == became for member, became in kind) or any(
            set(kind) <= set(piece.moves) for _, piece in floor.left
        )
