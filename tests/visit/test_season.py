"""The season's plan: no limit passed, never worse than doing each job when it is due, and known optima found."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.club.folder import Folder
from docgen.visit.calendar import calendar_of
from docgen.visit.programme import BEHIND, Need, Plan, as_late_as_can_be, late, solve
from docgen.visit.season import Season, helps, season
from tests.visit.conftest import ON, Printed

GAPS = 8
WHENEVER = (BEHIND,) * GAPS


def every(engine: str, job: str, period: int, first: int, minutes: int = 30, gaps: int = GAPS) -> Need:
    return Need(engine, job, minutes, first, tuple(g + period for g in range(gaps)))


@st.composite
def needs(draw: st.DrawFn) -> list[Need]:
    count = draw(st.integers(1, 6))
    engines = [draw(st.sampled_from("ABC")) for _ in range(count)]
    return [
        every(engine, f"job{n}", draw(st.integers(1, 9)), draw(st.integers(0, 9)), draw(st.integers(10, 90)))
        for n, engine in enumerate(engines)
    ]


def loads(plan: Plan, wanted: Sequence[Need]) -> list[int]:
    found = [0] * GAPS
    for need in wanted:
        for gap in range(GAPS):
            found[gap] += need.minutes * (need.job in plan.visits.get((need.engine, gap), ()))
    return found


@settings(max_examples=40, deadline=None)
@given(needs())
def test_never_past_a_limit_and_never_worse_than_waiting_for_each(wanted: list[Need]) -> None:
    plan, waiting = solve(wanted, [None] * GAPS), as_late_as_can_be(wanted, GAPS)
    assert late(plan, wanted, GAPS) == late(waiting, wanted, GAPS) == []
    assert plan.least
    assert len(plan.visits) <= len(waiting.visits)


@settings(max_examples=25, deadline=None)
@given(needs(), st.integers(30, 240))
def test_the_bench_is_not_filled_beyond_its_room_where_that_can_be(wanted: list[Need], room: int) -> None:
    plan, waiting = solve(wanted, [float(room)] * GAPS), as_late_as_can_be(wanted, GAPS)
    assert late(plan, wanted, GAPS) == []
    over = {gap: minutes - room for gap, minutes in enumerate(loads(plan, wanted)) if minutes > room}
    assert plan.extra == over
    if max(loads(waiting, wanted)) <= room:
        assert plan.extra == {}
        assert len(plan.visits) <= len(waiting.visits)


def test_bin_packing_with_a_known_optimum() -> None:
    """Six pieces of 4, 8, 1, 4, 2 and 1 fill two bins of 10 to the brim (8+1+1 and 4+4+2), and no fewer.

    Bin packing as in Garey and Johnson, Computers and Intractability, 1979, problem SR1; the instance is one that is
    printed widely, from memory, and checked by hand: the sum is 20.
    """
    sizes = (4, 8, 1, 4, 2, 1)
    wanted = [Need("A", f"job{n}", size, 1, (BEHIND, BEHIND)) for n, size in enumerate(sizes)]
    assert solve(wanted, [10.0, 10.0]).extra == {}
    assert sum(solve(wanted, [9.0, 10.0]).extra.values()) == 1


def test_three_halves_do_not_go_into_two_bins() -> None:
    """Three pieces of 6 have less than the sum of two bins of 10, and still do not fit: 12 in one of them, 2 too much.

    Why the sum alone is a weak bound: Martello and Toth, Knapsack Problems, 1990, chapter 8; from memory.
    """
    wanted = [Need("A", f"job{n}", 6, 1, (BEHIND, BEHIND)) for n in range(3)]
    assert sum(solve(wanted, [10.0, 10.0]).extra.values()) == 2


def test_joint_replenishment_with_a_known_optimum() -> None:
    """Two jobs every 2 and every 3 gaps, over 6: the first alone needs three visits, and the second goes with them.

    The joint replenishment problem: Arkin, Joneja and Roundy, 1989, from memory; the optimum counted by hand.
    """
    wanted = [every("A", "two", 2, 1, gaps=6), every("A", "three", 3, 2, gaps=6)]
    plan = solve(wanted, [None] * 6)
    assert sorted(gap for _, gap in plan.visits) == [1, 3, 5]
    assert late(plan, wanted, 6) == []
    assert len(as_late_as_can_be(wanted, 6).visits) == 4


def test_a_limit_that_is_passed_is_seen() -> None:
    wanted = [every("A", "two", 2, 1)]
    found = late(Plan({("A", 1): ("two",)}, {}, True), wanted, GAPS)
    assert [(one.since, one.until) for one in found] == [(2, 3)]


@pytest.fixture(scope="module")
def planned(printed: Printed) -> tuple[Season, Folder]:
    return season(printed.folder, ON), printed.folder


def test_the_demo_s_engine(planned: tuple[Season, Folder]) -> None:
    plan, _ = planned
    assert plan.late == ()
    assert plan.plan.least
    assert plan.engines == ("023",)
    assert set(plan.plan.visits["023", 0]) >= {"clutch-service", "spark-plug-renewal", "sprocket-chain-inspection",
                                               "starter-drive-service"}  # fmt: skip
    assert len(plan.plan.visits) < len(as_late_as_can_be(plan.needs, len(plan.gaps)).visits)


def test_the_calendar_is_read_back(planned: tuple[Season, Folder]) -> None:
    """By another library than the one that wrote it."""
    plan, folder = planned
    data = calendar_of(plan, folder)
    assert data == calendar_of(plan, folder)
    calendar = vobject.readOne(data.decode())
    assert calendar.validate()
    events = {one.uid.value: one for one in calendar.vevent_list}
    assert len(events) == len(calendar.vevent_list) == len(plan.plan.visits) + len(plan.rounds)
    for (engine, gap), jobs in plan.plan.visits.items():
        _, behind = plan.gaps[gap]
        one = events[f"{engine}-{behind.isoformat()}@docgen"]
        codes = sorted(folder.procedures[job].value.code for job in jobs)
        assert (one.summary.value, one.dtend.value) == (f"Engine {engine}: {' '.join(codes)}", behind)
        *titles, last = one.description.value.split("\n")
        assert titles == [str(folder.procedures[job].value.title) for job in jobs]
        assert last == f"About {plan.minutes(engine, gap)} min by estimate. docgen visit {engine}"
    first = events["023-2027-04-04@docgen"]
    assert (first.dtstart.value, first.dtend.value) == (ON, date(2027, 4, 4))
    for meeting in plan.rounds:
        one = events[f"round-{meeting.date.isoformat()}@docgen"]
        assert (one.summary.value, one.dtstart.value) == (meeting.round, meeting.date)
        assert one.dtend.value == meeting.date + timedelta(days=1)


def test_it_says_what_would_help(planned: tuple[Season, Folder]) -> None:
    plan, _ = planned
    short = solve(plan.needs, [60.0] * len(plan.gaps))
    told = Season(ON, plan.rounds, plan.gaps, plan.room, plan.needs, short, ())
    assert short.extra[0] > 0
    assert next(helps(told)).endswith("h more on the bench before Round 1 - Kestrel Mere")


def test_no_rounds_no_plan(printed: Printed) -> None:
    assert season(printed.folder, date(2028, 1, 1)).plan == Plan({}, {}, True)
