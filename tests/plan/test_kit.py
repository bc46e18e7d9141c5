"""The kit of many jobs is the sum of single jobs, exactly; what is short is what the shelf lacks."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import cache
from math import ceil

from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.club.schema.sidefiles import Stock
from docgen.job.job import Job
from docgen.plan.kit import Kit, kit_of
from docgen.trade.quantity import Quantity
from docgen.trade.units import find_unit
from tests.demo.conftest import _club, _job
from tests.shares import share

EVERY = sorted(
    (engine, job.procedure)
    for engine, record in _club().engines.items()
    for job in _club().for_model(_club().models[record.engine.model].value)
)
ENGINES = sorted({engine for engine, _ in EVERY})[: share(2, 99)]
"""Resolving every job of every engine takes longer than summing them: in an everyday run, a few engines' jobs."""
sets = st.lists(st.sampled_from([one for one in EVERY if one[0] in ENGINES]), min_size=1, max_size=8, unique=True)
MANY = settings(max_examples=share(12, 200))


def kit(jobs: list[Job], stock: Stock | None = None) -> Kit:
    """The kit of some jobs of the demo."""
    club = _club().club
    assert club is not None
    return kit_of(jobs, club.value, stock)


@cache
def single(engine: str, procedure: str) -> Kit:
    """The kit of one job."""
    return kit([_job(engine, procedure)])


def total(amounts: list[Quantity]) -> dict[str, Fraction]:
    """Amounts summed by their dimension, each in that dimension's first unit met; exact."""
    found: dict[str, tuple[str, Fraction]] = {}
    for amount in amounts:
        kind = sorted(find_unit(amount.unit).dimensions)[0]
        unit, so_far = found.get(kind, (amount.unit, Fraction(0)))
        found[kind] = (unit, so_far + amount.exactly(unit))
    return {f"{kind} in {unit}": value for kind, (unit, value) in found.items()}


def test_the_demo_has_many_jobs() -> None:
    assert len(EVERY) > 150


@MANY
@given(sets)
def test_sums_are_the_sums_of_single_jobs(chosen: list[tuple[str, str]]) -> None:
    together = kit([_job(*one) for one in chosen])
    alone = [single(*one) for one in chosen]
    assert [u for one in alone for u in one.needs.uses] == list(together.needs.uses)
    assert {t.name for t in together.needs.tools} == {t.name for one in alone for t in one.needs.tools}
    keys = {p.need.key for one in alone for p in one.parts}
    assert [p.need.key for p in together.parts] == list(dict.fromkeys(p.need.key for one in alone for p in one.parts))
    for key in keys:
        (whole,) = (p.need for p in together.parts if p.need.key == key)
        each = [p.need for one in alone for p in one.parts if p.need.key == key]
        assert (whole.sure, whole.may) == (sum(p.sure for p in each), sum(p.may for p in each)), key
        assert whole.hand == max(p.hand for p in each), key
        assert len(whole.uses) == len(each), key
    for name in {m.need.id for one in alone for m in one.materials}:
        (line,) = (m for m in together.materials if m.need.id == name)
        each_material = [m for one in alone for m in one.materials if m.need.id == name]
        assert total(line.need.amounts) == total([a for m in each_material for a in m.need.amounts]), name
        assert line.need.unstated == sum(m.need.unstated for m in each_material), name
        if line.containers is not None:
            assert line.container is not None
            sums = sum((a.exactly(line.container.unit) for a in line.need.amounts), Fraction(0))
            wanted = ceil(sums / Fraction(line.container.value))
            assert line.containers == max(wanted, int(line.need.unstated > 0)), name
    assert together.minutes == (sum(k.minutes[0] for k in alone), max(k.minutes[1] for k in alone))


@MANY
@given(sets, st.data())
def test_what_is_short_is_ordered_and_costs_exactly_that(chosen: list[tuple[str, str]], data: st.DataObject) -> None:
    jobs = [_job(*one) for one in chosen]
    bare = kit(jobs)
    numbers = [p.need.key for p in bare.parts if p.need.number]
    pieces = {number: data.draw(st.integers(0, 6)) for number in numbers}
    cents = {number: data.draw(st.integers(0, 99999)) for number in numbers}
    stock = Stock.model_validate(
        {
            "parts": {n: {"on_hand": str(pieces[n]), "price": f"{cents[n] / 100:.2f}"} for n in numbers},
            "materials": {m.need.id: {"on_hand": "99"} for m in bare.materials},
        }
    )
    made = kit(jobs, stock)
    wanted = {p.need.key: p.need.sure + p.need.hand for p in made.parts}
    short = {n: max(0, wanted[n] - pieces.get(n, 0)) for n in wanted}
    assert {p.need.key: p.shelf.short for p in made.parts} == short
    ordered = {line.number: line.count for line in made.order if line.number}
    assert ordered == {n: count for n, count in short.items() if count and n in numbers}
    if all(line.price is not None for line in made.order):
        costs = [Decimal(cents[n]) / 100 * count for n, count in ordered.items()]
        assert made.total == sum(costs, Decimal(0))
