"""Random jobs on random engines, joined: simulated clean, nothing lost, and no order is cheaper."""

from __future__ import annotations

import heapq
from itertools import count

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from docgen.club.bench.graph import Graph
from docgen.club.schema.model import Model
from docgen.job.expand import PlacedStep
from docgen.job.simulate import Run, simulate
from docgen.visit.floor import Choice, Floor
from docgen.visit.pieces import Task, task_of, total
from docgen.visit.search import PAIR, STATES, Order, cheapest, one_by_one, spent
from docgen.visit.yard import Yard
from tests.shares import share
from tests.visit.graphs import DOCUMENT, engines, step, tasks

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
QUICK = settings(max_examples=share(12, 60), deadline=None, suppress_health_check=SLOW)
FEW, EVERY = share(2_000, 20_000), share(1_000, 20_000)
"""How many states the search may make here, and how many are looked at where every one is."""


@st.composite
def several(draw: st.DrawFn, most: int, parts: int = 6) -> tuple[Graph, list[tuple[Task, Run]]]:
    graph = draw(engines(parts))
    return graph, [draw(tasks(graph, f"job{n}-")) for n in range(draw(st.integers(2, most)))]


def kept(order: Order, n: int, run: Run) -> bool:
    """Whether the lines that serve a job hold all its looks in its order, and every part that it renews."""
    steps = [line.piece.step for line in order.lines if n in line.serves]
    looks = iter([step.look for step in steps if step.look])
    renewed = {name for step in steps for name in step.renews}
    return all(
        (not one.step.look or one.step.look in looks) and renewed.issuperset(one.step.renews) for one in run.steps
    )


@QUICK
@given(several(6))
def test_joined_jobs_simulate_clean_and_keep_every_check(made: tuple[Graph, list[tuple[Task, Run]]]) -> None:
    graph, jobs = made
    check(cheapest(Yard(graph, tuple(task for task, _ in jobs)), FEW), graph, jobs)


@QUICK
@given(several(6))
def test_jobs_joined_one_by_one_simulate_clean_and_keep_every_check(made: tuple[Graph, list[tuple[Task, Run]]]) -> None:
    graph, jobs = made
    yard = Yard(graph, tuple(task for task, _ in jobs))
    order = one_by_one(yard)
    check(order, graph, jobs)
    best = cheapest(yard, FEW)
    if order and best and best.proved and not order.left_out:
        assert spent_on(order) >= spent_on(best)


def spent_on(order: Order) -> tuple[int, int]:
    return order.removals, order.seconds


def check(order: Order | None, graph: Graph, jobs: list[tuple[Task, Run]]) -> None:
    """Clean by simulation, the engine as every job leaves it, and all there of each job that is joined."""
    if order is None:
        return
    jobs_in = [(n, one) for n, one in enumerate(jobs) if n not in order.left_out]
    run = simulate([line.piece.placed for line in order.lines], graph, {})
    assert run.faults == ()
    assert run.before[-1] == jobs[0][1].before[-1]
    assert all(kept(order, n, alone) for n, (_, alone) in jobs_in)
    apart = total([task for _, (task, _) in jobs_in])
    assert (order.removals, order.seconds) <= apart
    assert order.removals == sum(len(line.piece.items) for line in order.lines)
    assert order.seconds == sum(line.piece.seconds for line in order.lines)


def without_a_bound(graph: Graph, jobs: tuple[Task, ...]) -> int | None:
    """The least cost of all orders, every state looked at in the order of what it has cost (Dijkstra, 1959).

    A graph with too many states is no example: another one is drawn, and too many of those are a fault of the test.
    """
    ticket = count()
    first = Floor.start(Yard(graph, jobs))
    first.settle()
    queue = [(spent(first), next(ticket), first)]
    seen: set[object] = set()
    while queue:
        cost, _, floor = heapq.heappop(queue)
        if floor.finished:
            return cost
        place = (floor.place, tuple(floor.last))
        if place in seen:
            continue
        seen.add(place)
        assume(len(seen) < EVERY)
        for choice in floor.choices():
            new = floor.after(choice)
            if new is not None:
                heapq.heappush(queue, (spent(new), next(ticket), new))
    return None


@QUICK
@given(several(5, 3))
def test_the_search_finds_what_looking_at_everything_finds(made: tuple[Graph, list[tuple[Task, Run]]]) -> None:
    graph, jobs = made
    found = tuple(task for task, _ in jobs)
    order = cheapest(Yard(graph, found))
    assert order is not None
    cost = order.removals * 10_000_000 + order.seconds
    if order.proved:
        assert cost == without_a_bound(graph, found)


def in_rounds(graph: Graph, name: str, *aims: str) -> tuple[Task, Run]:
    """Down to one part after the other, a look behind each, and up again each time."""
    steps = []
    for aim in aims:
        way = [m for m in graph.nodes if m == aim or m in graph.covers[aim]]
        steps += [step(f"Take {one} off.", removes=[one]) for one in way]
        steps.append(step(f"Look behind {aim} ({name}).", look={"id": f"{name}-{aim}", "accept": "Clean."}))
        steps += [step(f"Put {one} on.", fits=[one]) for one in reversed(way)]
    run = simulate([PlacedStep("Work", one, DOCUMENT, ()) for one in steps], graph, {})
    assert run.faults == ()
    return task_of(name, run), run


def rounds(ways: str, depth: int, many: int) -> tuple[Graph, list[tuple[Task, Run]]]:
    """Ways in that share nothing, and jobs that each go down three of them, one after the other."""
    parts = {f"{way}{at}": {"behind": [f"{way}{at - 1}"] if at else []} for way in ways for at in range(depth)}
    told = {"model": "ways", "title": "Ways", "manual": "none", "equipment": ["spark-ignition"], "fasteners": {},
            "parts": parts}  # fmt: skip
    graph, names = Graph(Model.model_validate(told)), [*parts]
    aims = [[names[at % len(names)] for at in (n, 2 * n + 1, n + 3)] for n in range(many)]
    return graph, [in_rounds(graph, f"job{n}", *three) for n, three in enumerate(aims)]


def test_an_order_that_may_not_be_the_cheapest_is_not_called_so() -> None:
    """Jobs that take off twice what others take off too: here joining them one by one takes off less."""
    graph, jobs = rounds("ab", 3, 4)
    yard = Yard(graph, tuple(task for task, _ in jobs))
    order, other = cheapest(yard), one_by_one(yard)
    assert order is not None
    assert other is not None
    assert (order.removals, order.proved, other.removals, other.proved) == (8, False, 7, False)


def test_jobs_with_too_many_orders_are_joined_one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight jobs that each go down three of four ways, one after the other: more than a hundred thousand states.

    What is counted is what a search makes and keeps; how long that takes is the machine's affair.
    """
    graph, jobs = rounds("abcd", 2, 8)
    made, after, allowed = [], Floor.after, share(2_000, STATES)

    def counted(floor: Floor, choice: Choice) -> Floor | None:
        made.append(choice)
        assert len(made) < allowed + 7 * PAIR, "a search goes on beyond its limit"
        return after(floor, choice)

    monkeypatch.setattr(Floor, "after", counted)
    order = cheapest(Yard(graph, tuple(task for task, _ in jobs)), allowed)
    assert order is not None
    assert (order.proved, order.left_out) == (False, ())
    assert len(made) > allowed
    check(order, graph, jobs)
    assert order.removals < total([task for task, _ in jobs])[0]


def looking(graph: Graph, name: str, *parts: str) -> Task:
    """Parts off in their order, a look, and on again."""
    down = [step(f"Take {one} off.", removes=[one]) for one in parts]
    look = step(f"Look behind {parts[-1]}.", look={"id": f"seat-{parts[-1]}", "accept": "Clean."})
    up = [step(f"Put {one} on.", fits=[one]) for one in reversed(parts)]
    placed = [PlacedStep("Work", one, DOCUMENT, ()) for one in (*down, look, *up)]
    return task_of(name, simulate(placed, graph, {}))


def test_two_jobs_down_one_way_take_it_once() -> None:
    """Worked by hand: b lies behind a; one job looks at a's seat, the other at b's. Two removals instead of three."""
    told = {"model": "two", "title": "Two", "manual": "none", "equipment": ["spark-ignition"], "fasteners": {},
            "parts": {"a": {}, "b": {"behind": ["a"]}}}  # fmt: skip
    graph = Graph(Model.model_validate(told))
    order = cheapest(Yard(graph, (looking(graph, "outer", "a"), looking(graph, "inner", "a", "b"))))
    assert order is not None
    assert (order.removals, order.seconds, order.proved) == (2, 360, True)
    assert [(line.piece.step.do, line.serves) for line in order.lines] == [
        ("Take a off.", (0, 1)),
        ("Look behind a.", (0,)),
        ("Take b off.", (1,)),
        ("Look behind b.", (1,)),
        ("Put b on.", (1,)),
        ("Put a on.", (0, 1)),
    ]
