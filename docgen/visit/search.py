"""The order in which the jobs' parts are joined: the fewest removals, then the fewest minutes.

Best-first search with a bound that never says too much (A*: Hart, Nilsson and Raphael, 1968; from memory): what is
still to be undone or taken off at least once, and work that still has to be done by at least one job. The first whole
list that it comes to is then the cheapest.

Beyond ``EXACT`` jobs, or where it has made as many states as it may, the jobs are joined one by one instead, the
one that takes off most first: each into the list so far, which counts as one job from then on, again by the same
search. That is quick, and may miss an order that takes off less; it is never called the fewest.
"""

from __future__ import annotations

import heapq
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count

from docgen.job.simulate import simulate
from docgen.visit.floor import Floor, Line
from docgen.visit.pieces import Piece, task_of
from docgen.visit.yard import Yard

EXACT = 8
"""Up to so many jobs the fewest is looked for until it is proved, within ``STATES``."""
STATES, PAIR = 40_000, 10_000
"""How many states are made, for all jobs at once and for each that is joined to the list so far: what a search takes
grows with those that it makes, and keeps, rather than with those that it goes on from."""
REMOVAL = 10_000_000
"""One removal outweighs any time: 10 million seconds."""


@dataclass(frozen=True)
class Order:
    """The joined list.

    proved   : no order has fewer removals, nor as few and less time
    left_out : the jobs that could not be joined to those before them; their steps are not in the list
    """

    lines: tuple[Line, ...]
    removals: int
    seconds: int
    proved: bool
    left_out: tuple[int, ...] = ()


def cheapest(yard: Yard, states: int = STATES) -> Order | None:
    """The cheapest joined list; None where none is found that keeps what every job needs."""
    if len(yard.tasks) > EXACT:
        return one_by_one(yard)
    bound = Bound(yard)
    found, whole = _search(yard, bound, states)
    if found is None and not whole:
        return one_by_one(yard)
    return _order(found.lines, proved=not bound.twice) if found else None


def one_by_one(yard: Yard) -> Order | None:
    """The jobs joined one after the other; None where no two can be."""
    numbers = sorted(range(len(yard.tasks)), key=lambda n: -yard.tasks[n].removals)
    whole = yard.tasks[numbers[0]]
    served = {id(piece): {numbers[0]} for piece in whole.pieces}
    joined, left_out = False, []
    for n in numbers[1:]:
        served |= {id(piece): {n} for piece in yard.tasks[n].pieces}
        pair = replace(yard, tasks=(whole, yard.tasks[n]))
        found, _ = _search(pair, Bound(pair), PAIR)
        if found is None:
            left_out.append(n)
            continue
        joined = True
        whole = task_of("", simulate([line.piece.placed for line in found.lines], yard.graph, {}))
        every = ({n for piece in line.stands for n in served[id(piece)]} for line in found.lines)
        served |= {id(piece): serves for piece, serves in zip(whole.pieces, every, strict=True)}
    lines = [Line(piece, tuple(sorted(served[id(piece)]))) for piece in whole.pieces]
    return _order(lines, left_out=tuple(sorted(left_out))) if joined else None


def _order(lines: Sequence[Line], *, proved: bool = False, left_out: tuple[int, ...] = ()) -> Order:
    removals, seconds = (sum(len(line.piece.items) for line in lines), sum(line.piece.seconds for line in lines))
    return Order(tuple(lines), removals, seconds, proved, left_out)


def _search(yard: Yard, bound: Bound, limit: int) -> tuple[Floor | None, bool]:
    """The first whole list that the search comes to, and whether it got to its end before it had made ``limit``."""
    first = Floor.start(yard)
    first.settle()
    ticket = count(0, -1)  # of equals the newest first: straight on to the end
    queue = [(bound.of(first), next(ticket), first)]
    seen: dict[object, int] = {}
    made = 0
    while queue:
        _, _, floor = heapq.heappop(queue)
        if floor.finished:
            return floor, True
        for choice in reversed([*floor.choices()]):
            if made == limit:
                return None, False
            made += 1
            new = floor.after(choice)
            if new is None:
                continue
            cost, place = spent(new), new.place
            if seen.get(place, cost + 1) <= cost:
                continue
            seen[place] = cost
            heapq.heappush(queue, (cost + bound.of(new), next(ticket), new))
    return None, True


def spent(floor: Floor) -> int:
    """What the list so far costs, in seconds."""
    return floor.removals * REMOVAL + floor.seconds


class Bound:
    """What the rest costs at least, in seconds.

    Of each kind of work (a piece's moves, or what it does) the job counts that has most of it still to come: one job's
    work may stand for another's, but not twice for the same. A piece counts with the least that it, or one of the same
    kind in another job, takes; moves that one job makes together and another apart count nothing. What several jobs
    take off counts once for each: a job that leaves its refit to another one finds it off when it comes back to it.

    twice : whether a job takes off twice what another one takes off too; the search may then miss an order in which
            both of its times are one, and proves nothing
    """

    def __init__(self, yard: Yard) -> None:
        self.yard = yard
        together: dict[tuple[str, str], set[object]] = defaultdict(set)
        least: dict[object, dict[int, int]] = defaultdict(dict)
        for n, task in enumerate(yard.tasks):
            for piece in task.pieces:
                kind = _kind(piece)
                least[kind][n] = min(least[kind].get(n, piece.seconds), piece.seconds)
                for move in piece.moves:
                    together[move].add(piece.moves)
        apart = {key for key, kinds in together.items() if len(kinds) > 1}
        owners = Counter(item for task in yard.tasks for item in {i for piece in task.pieces for i in piece.items})
        self.shared = frozenset(item for item, count in owners.items() if count > 1)
        every = (Counter(i for piece in task.pieces for i in piece.items) for task in yard.tasks)
        self.twice = any(times > 1 and item in self.shared for counts in every for item, times in counts.items())
        self.rest: list[list[tuple[Counter[str], dict[object, tuple[int, int]]]]] = []
        for n, task in enumerate(yard.tasks):
            items: Counter[str] = Counter()
            work: dict[object, tuple[int, int]] = {}
            rest = [(Counter(items), dict(work))]
            for piece in reversed(task.pieces):
                items.update(piece.items)
                kind = _kind(piece)
                seconds = min([piece.seconds, *(s for k, s in least[kind].items() if k != n)])
                if seconds and apart.isdisjoint(piece.moves):
                    more = 0 if self._shared(piece) else work.get(kind, (0, 0))[0]
                    work[kind] = (more + seconds, seconds)
                rest.append((Counter(items), dict(work)))
            self.rest.append(rest[::-1])

    def of(self, floor: Floor) -> int:
        """The least that any way on from here can cost."""
        nodes = self.yard.graph.nodes
        off = {nodes[m].item for m in floor.open}
        removals: dict[str, int] = {}
        work: dict[object, int] = {}
        for n, at in enumerate(floor.at):
            items, kinds = self.rest[n][at]
            piece = floor.piece(n)
            away = off - {nodes[m].item for m in piece.open} if off and piece else off
            for item, times in items.items():
                least = (1 if item in self.shared else times) - (item in away)
                if removals.get(item, 0) < least:
                    removals[item] = least
            for kind, (seconds, first) in kinds.items():
                if (known := work.get(kind, 0)) < seconds:
                    rest = seconds - first if self._standing(floor, n, piece, kind) else seconds
                    work[kind] = max(known, rest)
        return sum(removals.values()) * REMOVAL + sum(work.values())

    def _shared(self, piece: Piece) -> bool:
        return any(self.yard.graph.nodes[member].item in self.shared for member, _ in piece.moves)

    def _standing(self, floor: Floor, task: int, piece: Piece | None, kind: object) -> bool:
        """Whether a job at `piece` may count a kind of work as done: it is, and its own turn at it is still to come."""
        if isinstance(kind, str) or piece is None:
            place = floor.done.get(str(kind))
            return place is not None and task not in floor.lines[place].serves
        assert isinstance(kind, tuple)
        now, before = floor.now, piece.before
        return all(now[member] == became != before[member] for member, became in kind)


def _kind(piece: Piece) -> object:
    return piece.moves or piece.key
