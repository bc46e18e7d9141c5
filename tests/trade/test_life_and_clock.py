"""Hours through moves between engines, and time on the bench."""

from __future__ import annotations

from datetime import datetime, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.trade.clock import Wait, Work, duration, schedule
from docgen.trade.errors import TradeError
from docgen.trade.life import Fitted, Ran, Removed, lives
from docgen.trade.quantity import QuantityError, parse_quantity

NINE = datetime(2026, 3, 7, 9, 0)  # noqa: DTZ001  local time of the bench, by design


def minutes(n: float) -> timedelta:
    return timedelta(minutes=n)


# --- hours ------------------------------------------------------------------------------------------------------------


def test_a_carburettor_that_moves_keeps_its_own_hours() -> None:
    found = lives(
        [
            Fitted("carb-7", "12"),
            Fitted("clutch-3", "12", Fraction(20)),
            Fitted("coil-1", "31", None),
            Ran("12", Fraction("1.5")),
            Removed("carb-7"),
            Ran("12", Fraction("3.0")),
            Fitted("carb-7", "31", Fraction(99)),
            Ran("31", Fraction("2.0")),
            Ran("5", Fraction("8.0")),
        ]
    )
    shown = {
        key: (life.engine, str(life.since_fitted), str(life.recorded), str(life.since_new))
        for key, life in found.items()
    }
    assert shown == {
        "carb-7": ("31", "2", "7/2", "7/2"),
        "clutch-3": ("12", "9/2", "9/2", "49/2"),
        "coil-1": ("31", "2", "2", "None"),
    }
    assert found["clutch-3"].left(Fraction(24)) == Fraction("-0.5")
    assert found["coil-1"].left(Fraction(24)) is None


def test_on_the_shelf_it_keeps_the_hours_of_its_last_engine() -> None:
    found = lives([Fitted("carb-7", "12"), Ran("12", Fraction(2)), Removed("carb-7"), Ran("12", Fraction(1))])
    assert (found["carb-7"].engine, found["carb-7"].since_fitted) == (None, Fraction(2))


@pytest.mark.parametrize(
    ("events", "name", "message"),
    [
        (
            [Fitted("carb-7", "12"), Fitted("carb-7", "31")],
            "already-fitted",
            "carb-7 is fitted to engine 31 but is still on 12",
        ),
        ([Removed("carb-7")], "not-fitted", "carb-7 is removed but was on no engine"),
        (
            [Fitted("carb-7", "12"), Removed("carb-7"), Removed("carb-7")],
            "not-fitted",
            "carb-7 is removed but was on no engine",
        ),
        ([Ran("12", Fraction(-1))], "negative-hours", "engine 12 cannot have run for -1 h"),
        ([Fitted("carb-7", "12", Fraction(-1))], "negative-hours", "carb-7 cannot have had -1 h before"),
    ],
)
def test_a_record_that_cannot_be_is_refused(events: list[Ran | Fitted | Removed], name: str, message: str) -> None:
    with pytest.raises(TradeError) as caught:
        lives(events)
    assert (caught.value.name, caught.value.message) == (name, message)


@given(
    moves=st.lists(
        st.tuples(st.sampled_from("ABC"), st.sampled_from(["1", "2", "3"]), st.fractions(0, 9, max_denominator=60)),
        max_size=30,
    )
)
def test_no_hour_is_lost_or_counted_twice(moves: list[tuple[str, str, Fraction]]) -> None:
    """Three components take turns: whoever is fitted takes the place, and every hour is somebody's once."""
    events: list[Ran | Fitted | Removed] = []
    on: dict[str, str] = {}
    expected = dict.fromkeys("ABC", Fraction(0))
    for component, engine, hours in moves:
        if component in on:
            events.append(Removed(component))
        events.append(Fitted(component, engine))
        on[component] = engine
        events.append(Ran(engine, hours))
        for other, place in on.items():
            expected[other] += hours if place == engine else 0
    found = lives(events)
    assert {key: life.recorded for key, life in found.items()} == {key: expected[key] for key in found}
    assert all(life.since_fitted <= life.recorded for life in found.values())


# --- time -------------------------------------------------------------------------------------------------------------

STEPS = [Work("undo", minutes(10)), Work("clean", minutes(5)), Work("tighten", minutes(10)), Work("close", minutes(5))]


def test_a_cure_sets_the_time_to_run() -> None:
    cure = Wait("tighten", timedelta(hours=24), None, "threadlocker cures")
    dry = Wait("clean", minutes(15), "tighten", "solvent dries")
    found = schedule(NINE, STEPS, [cure, dry])
    assert [(slot.key, f"{slot.starts:%H:%M}", f"{slot.ends:%H:%M}") for slot in found.slots] == [
        ("undo", "09:00", "09:10"),
        ("clean", "09:10", "09:15"),
        ("tighten", "09:30", "09:40"),
        ("close", "09:40", "09:45"),
    ]
    assert (found.hands_on, found.idle) == (minutes(30), minutes(15))
    assert (found.done, found.ready) == (NINE + minutes(45), NINE + timedelta(hours=24, minutes=40))
    assert found.governs == cure


def test_without_waits_the_work_sets_the_time() -> None:
    found = schedule(NINE, STEPS)
    assert (found.done, found.ready, found.governs) == (NINE + minutes(30), NINE + minutes(30), None)
    over = schedule(NINE, STEPS, [Wait("undo", minutes(5), None, "soaks")])
    assert (over.ready, over.governs) == (over.done, None)


@pytest.mark.parametrize(
    ("work", "waits", "name", "message"),
    [
        ([], [], "no-work", "there is no step to put on the clock"),
        ([STEPS[0], STEPS[0]], [], "step-twice", "step undo stands on the clock twice"),
        (STEPS, [Wait("glue", minutes(1), None, "cures")], "unknown-step", "cures: there is no step glue"),
        (STEPS, [Wait("undo", minutes(1), "glue", "cures")], "unknown-step", "cures: there is no step glue"),
        (
            STEPS,
            [Wait("close", minutes(1), "undo", "cures")],
            "wait-backwards",
            "cures: step undo does not come after close",
        ),
        (STEPS, [Wait("undo", minutes(-1), None, "cures")], "negative-time", "cures takes less than no time"),
        ([Work("undo", minutes(-1))], [], "negative-time", "undo takes less than no time"),
    ],
)
def test_a_clock_that_cannot_run_is_refused(work: list[Work], waits: list[Wait], name: str, message: str) -> None:
    with pytest.raises(TradeError) as caught:
        schedule(NINE, work, waits)
    assert (caught.value.name, caught.value.message) == (name, message)


def test_durations() -> None:
    texts = {text: str(duration(parse_quantity(text))) for text in ("90 s", "15 min", "1.5 h", "1 day")}
    assert texts == {"90 s": "0:01:30", "15 min": "0:15:00", "1.5 h": "1:30:00", "1 day": "1 day, 0:00:00"}
    with pytest.raises(QuantityError, match="calendar month"):
        duration(parse_quantity("1 month"))


@given(
    times=st.lists(st.integers(0, 120), min_size=2, max_size=8),
    wait=st.integers(0, 2000),
    more=st.integers(0, 500),
    for_run=st.booleans(),
)
def test_a_longer_wait_never_makes_it_ready_sooner(times: list[int], wait: int, more: int, for_run: bool) -> None:
    work = [Work(str(k), minutes(each)) for k, each in enumerate(times)]
    before = None if for_run else "1"
    one = schedule(NINE, work, [Wait("0", minutes(wait), before, "w")])
    two = schedule(NINE, work, [Wait("0", minutes(wait + more), before, "w")])
    assert one.ready <= two.ready
    assert one.hands_on == two.hands_on == minutes(sum(times))
    assert one.done == NINE + one.hands_on + one.idle
    assert one.ready >= one.done
    assert one.slots[0].ends + minutes(wait) <= (one.ready if for_run else one.slots[1].starts)
