"""Which jobs before which round: a mixed-integer programme, solved by HiGHS through scipy.

Rounds part the season into gaps; gap ``g`` lies before round ``g``. For each need ``i`` and gap ``g``, ``x[i, g]`` says
that the job is done then; for each engine, ``v[e, g]`` that the engine is apart then.

    x[i, 0] + ... + x[i, first] >= 1                      the job is done before its first limit
    x[i, g+1] + ... + x[i, again[g]] >= x[i, g]           and again before the next, where that falls into the season
    v[e, g] >= x[i, g]                                    for every need of the engine
    sum of minutes * x <= room[g] + extra[g]              the bench hours of the gap
    least:  LATE * late + EXTRA * extra + VISIT * v + minutes * x

Minutes are those of each job by itself: what jobs save together is room to spare, never counted on. ``late`` and
``extra`` are what a limit or the bench is exceeded by; both are nought wherever that can be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import count

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

LATE, EXTRA, VISIT = 1e8, 2e4, 1e3
"""A limit that is passed outweighs five thousand minutes too many on the bench; one of those twenty visits; a visit a
thousand minutes of work."""
BEHIND = 10_000
"""A gap behind every season."""
SECONDS = 20.0
"""How long one search may take; what it has found by then is held against every limit like any other plan."""
FEW = 600
"""Jobs times gaps up to which all engines are planned at once."""


@dataclass(frozen=True)
class Need:
    """One job on one engine over a season.

    minutes : hands-on work, of the job by itself
    first   : the last gap in which it keeps its limit; None where the season does not reach it
    again   : done in gap g, the last gap in which it must be done again; one that is no gap lies behind the season
    """

    engine: str
    job: str
    minutes: int
    first: int | None
    again: tuple[int, ...]


@dataclass(frozen=True)
class Plan:
    """What is done when: engine and gap to the jobs.

    extra : bench minutes beyond the room, by gap; none where the room is enough
    least : whether the search has proved that nothing costs less
    """

    visits: Mapping[tuple[str, int], tuple[str, ...]]
    extra: Mapping[int, int]
    least: bool


def solve(needs: Sequence[Need], room: Sequence[float | None]) -> Plan:
    """The plan with the fewest limits passed, then the least over the bench's room, the fewest visits, the least work.

    Engines meet on the bench only. So each is planned by itself first: where the bench holds all of that, nothing costs
    less. Else all are planned at once where they are few; and where they are many, one after the other, in the room
    that is left while those still to be planned do each job when it is due.
    room : bench minutes of each gap; None where the club does not say
    """
    gaps = len(room)
    wanted = [need for need in needs if need.first is not None and need.first < gaps]
    own: dict[str, list[Need]] = {}
    for need in wanted:
        own.setdefault(need.engine, []).append(need)
    plans = {engine: _solved(its, [None] * gaps) for engine, its in own.items()}
    free = sum(plan.cost for plan in plans.values())
    if _over(wanted, plans, room) and len(wanted) * gaps <= FEW:
        found = _solved(wanted, room)
        return Plan(found.visits, _over(wanted, {"": found}, room), found.least)
    if _over(wanted, plans, room):
        plans = {engine: _Solved(as_late_as_can_be(its, gaps).visits, 0, False) for engine, its in own.items()}
        for engine, its in own.items():
            others = _load([one for one in wanted if one.engine != engine], plans, gaps)
            left = [None if all_ is None else max(0.0, all_ - load) for all_, load in zip(room, others, strict=True)]
            plans[engine] = _solved(its, left)
    visits = {place: jobs for plan in plans.values() for place, jobs in plan.visits.items()}
    over = _over(wanted, plans, room)
    least = all(plan.least for plan in plans.values()) and not over and sum(p.cost for p in plans.values()) <= free
    return Plan(visits, over, least)


def _load(needs: Sequence[Need], plans: Mapping[str, _Solved], gaps: int) -> list[int]:
    found = [0] * gaps
    for need in needs:
        for plan in plans.values():
            for gap in range(gaps):
                found[gap] += need.minutes * (need.job in plan.visits.get((need.engine, gap), ()))
    return found


def _over(needs: Sequence[Need], plans: Mapping[str, _Solved], room: Sequence[float | None]) -> dict[int, int]:
    """Bench minutes beyond the room, by gap."""
    loads = _load(needs, plans, len(room))
    over = {g: load - all_ for g, (load, all_) in enumerate(zip(loads, room, strict=True)) if all_ is not None}
    return {g: round(minutes) for g, minutes in over.items() if minutes > 0.5}


@dataclass(frozen=True)
class _Solved:
    visits: Mapping[tuple[str, int], tuple[str, ...]]
    cost: int
    least: bool


def _solved(wanted: Sequence[Need], room: Sequence[float | None]) -> _Solved:
    """The programme above for some needs; its cost without what lies over the room."""
    gaps = len(room)
    rows = _Rows()
    doing = [[rows.variable(need.minutes, 1) for _ in range(gaps)] for need in wanted]
    places = dict.fromkeys((need.engine, g) for need in wanted for g in range(gaps))
    apart = {place: rows.variable(VISIT, 1) for place in places}
    for need, done in zip(wanted, doing, strict=True):
        assert need.first is not None
        rows.at_least(dict.fromkeys(done[:need.first + 1], 1.0) | {rows.variable(LATE, 1): 1.0}, 1)
        for g, again in enumerate(need.again[:gaps]):
            if again < gaps:
                late = rows.variable(LATE, 1)
                rows.at_least(dict.fromkeys(done[g + 1:again + 1], 1.0) | {late: 1.0, done[g]: -1.0}, 0)
        for g, one in enumerate(done):
            rows.at_least({apart[need.engine, g]: 1.0, one: -1.0}, 0)
    for g, minutes in enumerate(room):
        if minutes is not None:
            over = rows.variable(EXTRA, np.inf, whole=False)
            work = {done[g]: -float(need.minutes) for need, done in zip(wanted, doing, strict=True)}
            rows.at_least({over: 1.0} | work, -minutes)
    found, least = rows.solved()
    visits: dict[tuple[str, int], tuple[str, ...]] = {}
    for need, done in zip(wanted, doing, strict=True):
        for g, one in enumerate(done):
            if found[one] > 0.5:
                visits[need.engine, g] = (*visits.get((need.engine, g), ()), need.job)
    times = [sum(found[one] > 0.5 for one in done) for done in doing]
    work_minutes = sum(need.minutes * count for need, count in zip(wanted, times, strict=True))
    return _Solved(visits, round(VISIT) * len(visits) + work_minutes, least)


class _Rows:
    """The programme as it is written down."""

    def __init__(self) -> None:
        self._next = count()
        self._cost: list[float] = []
        self._most: list[float] = []
        self._whole: list[int] = []
        self._row: list[int] = []
        self._column: list[int] = []
        self._factor: list[float] = []
        self._least: list[float] = []

    def variable(self, cost: float, most: float, *, whole: bool = True) -> int:
        """A new variable from nought to `most`."""
        self._cost.append(cost)
        self._most.append(most)
        self._whole.append(int(whole))
        return next(self._next)

    def at_least(self, factors: Mapping[int, float], least: float) -> None:
        """A new row."""
        for column, factor in factors.items():
            self._row.append(len(self._least))
            self._column.append(column)
            self._factor.append(factor)
        self._least.append(least)

    def solved(self) -> tuple[list[float], bool]:
        """The values of the variables, and whether nothing costs less. Every programme of this shape has a plan."""
        shape = (len(self._least), len(self._cost))
        matrix = coo_array((self._factor, (self._row, self._column)), shape=shape).tocsr()
        found = milp(
            np.array(self._cost),
            constraints=LinearConstraint(matrix, lb=np.array(self._least)),
            integrality=np.array(self._whole),
            bounds=Bounds(0, np.array(self._most)),
            options={"time_limit": SECONDS, "mip_rel_gap": 0.0},
        )
        if found.x is None:
            raise ArithmeticError(f"the search for a season's plan ended without one: {found.message}")
        return [float(value) for value in found.x], found.status == 0


@dataclass(frozen=True)
class Late:
    """A need whose limit a plan passes: done in no gap from `since` to `until`."""

    need: Need
    since: int
    until: int


def late(plan: Plan, needs: Sequence[Need], gaps: int) -> list[Late]:
    """Every limit that a plan passes, the earliest first: each need followed through the season, gap by gap."""
    found = []
    for need in needs:
        done = [g for g in range(gaps) if need.job in plan.visits.get((need.engine, g), ())]
        since, until = 0, need.first
        while until is not None and until < gaps:
            times = [g for g in done if since <= g <= until]
            if not times:
                found.append(Late(need, since, until))
                break
            since, until = times[-1] + 1, need.again[times[-1]]
    return sorted(found, key=lambda one: (one.until, one.need.engine, one.need.job))


def as_late_as_can_be(needs: Sequence[Need], gaps: int) -> Plan:
    """What a club does without a plan: each job when its limit is next, together with what else is due then."""
    visits: dict[tuple[str, int], tuple[str, ...]] = {}
    for need in needs:
        at = need.first
        while at is not None and at < gaps:
            visits[need.engine, at] = (*visits.get((need.engine, at), ()), need.job)
            at = max(need.again[at], at + 1)
    return Plan(visits, {}, False)
