"""Eight jobs of twenty-five steps joined into one visit, then fourteen; and fifty engines planned over twelve rounds.

Run as: .venv/bin/python -m benchmarks.visits
"""

from __future__ import annotations

import random
import time

from docgen.club.bench.graph import Graph
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Step
from docgen.club.yamldoc import Document
from docgen.job.expand import PlacedStep
from docgen.job.simulate import simulate
from docgen.visit.pieces import Task, task_of, total
from docgen.visit.programme import Need, as_late_as_can_be, late, solve
from docgen.visit.search import cheapest
from docgen.visit.yard import Yard

JOBS, MANY, STEPS, ENGINES, ROUNDS, KINDS = 8, 14, 25, 50, 12, 10
DOCUMENT = Document("made.yaml", "", {}, {}, {})


def engine() -> Graph:
    """Four ways in that share their outermost part, each with three parts one behind the other, held by screws."""
    parts: dict[str, dict[str, object]] = {"guard": {"held_by": ["guard-screws"]}}
    screws: dict[str, dict[str, object]] = {"guard-screws": {"by_feel": "snug", "count": 4}}
    for way in "abcd":
        before = "guard"
        for depth in range(3):
            name = f"{way}{depth}"
            parts[name] = {"behind": [before], "held_by": [f"{name}-screws"]}
            screws[f"{name}-screws"] = {"by_feel": "snug", "behind": [before], "count": 2}
            before = name
    told = {"model": "made", "title": "Made", "manual": "none", "equipment": ["spark-ignition"], "parts": parts,
            "fasteners": screws}  # fmt: skip
    return Graph(Model.model_validate(told))


def job(graph: Graph, n: int, chance: random.Random) -> Task:
    """Down one way to a depth, looks until the job has its steps, and up again."""
    way = ["guard", *(f"{'abcd'[n % 4]}{depth}" for depth in range(1 + n % 3))]
    down = [one for name in way for one in (step(undoes=[f"{name}-screws"]), step(removes=[name]))]
    up = [one for name in reversed(way) for one in (step(fits=[name]), step(tightens=[f"{name}-screws"]))]
    looks = [step(look={"id": f"look-{n}-{k}", "accept": "Good."}) for k in range(STEPS - len(down) - len(up))]
    early = chance.randint(0, 2)
    placed = [PlacedStep("Work", one, DOCUMENT, ()) for one in (*looks[:early], *down, *looks[early:], *up)]
    return task_of(f"job-{n}", simulate(placed, graph, {}))


def step(**verbs: object) -> Step:
    """A step of a minute, named after what it does."""
    return Step.model_validate({"do": f"Do {sorted(verbs.items())}.", "takes": "1 min", **verbs})


def season(chance: random.Random) -> tuple[list[Need], list[float | None]]:
    """Fifty engines with ten jobs each, due every two to nine rounds, and no more bench than waiting needs."""
    needs = []
    for number in range(ENGINES):
        for kind in range(KINDS):
            period, minutes = chance.randint(2, 9), chance.choice((20, 30, 45, 60, 90))
            again = tuple(g + period for g in range(ROUNDS))
            needs.append(Need(f"{number:03d}", f"job-{kind}", minutes, chance.randint(0, period - 1), again))
    busiest = [0] * ROUNDS
    for (name, gap), jobs in as_late_as_can_be(needs, ROUNDS).visits.items():
        busiest[gap] += sum(need.minutes for need in needs if need.engine == name and need.job in jobs)
    return needs, [float(max(busiest))] * ROUNDS


def joining(graph: Graph, tasks: list[Task]) -> tuple[int, int, float]:
    """Join some jobs, say how it went; removals together and apart, and seconds."""
    assert all(len(task.pieces) == STEPS for task in tasks)
    began = time.perf_counter()
    order = cheapest(Yard(graph, tuple(tasks)))
    took = time.perf_counter() - began
    assert order is not None
    assert not order.left_out
    assert simulate([line.piece.placed for line in order.lines], graph, {}).faults == ()
    apart, _ = total(tasks)
    print(f"{len(tasks)} jobs of {STEPS} steps: {took:.1f} s, {len(order.lines)} steps, {order.removals} removals of "
          f"{apart}, proved: {order.proved}")  # fmt: skip
    return order.removals, apart, took


def main() -> None:
    """Print what was joined and planned, and the times."""
    chance = random.Random(17)
    graph = engine()
    more = random.Random(14)
    every = [job(graph, n, chance if n < JOBS else more) for n in range(MANY)]
    removals, apart, joined = joining(graph, every[:JOBS])
    joining(graph, every)
    needs, room = season(chance)
    began = time.perf_counter()
    plan = solve(needs, room)
    planned = time.perf_counter() - began
    waiting = as_late_as_can_be(needs, ROUNDS)
    over = len(late(plan, needs, ROUNDS))
    print(f"{len(plan.visits)} visits, {len(waiting.visits)} without a plan; nothing costs less: {plan.least}; "
          f"minutes beyond the bench: {sum(plan.extra.values())}")  # fmt: skip
    print(f"visit: {joined:.1f} s; removals saved: {apart - removals} of {apart}; "
          f"season: {planned:.1f} s for {ENGINES} engines; over a limit: {over}")  # fmt: skip


if __name__ == "__main__":
    main()
