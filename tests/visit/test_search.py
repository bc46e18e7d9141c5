"""Random jobs on random engines, joined: simulated clean, nothing lost, and no order is cheaper."""

from __future__ import annotations

import heapq
from itertools import count

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from docgen.club.bench.graph import Graph
from docgen.club.schema.model import Model
from docgen.job.expand import PlacedStep
from docgen.job.simulate import Run, simulate
from docgen.visit.floor import Floor
from docgen.visit.pieces import Task, task_of, total
from docgen.visit.search import Order, cheapest, one_by_one, spent
from docgen.visit.yard import Yard
from tests.visit.graphs import DOCUMENT, engines, step, tasks

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
QUICK = settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=SLOW)
"""The same examples in every run: some graphs take many minutes to look through."""


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
    check(cheapest(Yard(graph, tuple(task for task, _ in jobs)), 4000), graph, jobs)


@QUICK
@given(several(6))
def test_jobs_joined_one_by_one_simulate_clean_and_keep_every_check(made: tuple[Graph, list[tuple[Task, Run]]]) -> None:
    graph, jobs = made
    yard = Yard(graph, tuple(task for task, _ in jobs))
    order = one_by_one(yard)
    check(order, graph, jobs)
    best = cheapest(yard, 4000)
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
    """The least cost of all orders, every state looked at in the order of what it has cost (Dijkstra, 1959)."""
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
