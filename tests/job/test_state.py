"""An engine's state from its log, against a slow and obvious reckoning."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from docgen.club.folder import EngineRecord
from docgen.club.log import Entry, Log
from docgen.club.schema.engine import Engine
from docgen.club.schema.event import KINDS, Event
from docgen.club.yamldoc import Document
from docgen.job.state import state_of

START = date(2030, 1, 1)


def record(*events: dict[str, object]) -> EngineRecord:
    """A record with these events in order, as if read from files."""
    document = Document("log", "", {}, {}, {})
    entries = []
    for index, data in enumerate(events):
        kind = KINDS[str(data["event"])]
        event: Event = kind.model_validate(data)
        instead = None
        if data["event"] == "correction" and "instead" in data:
            inner = data["instead"]
            assert isinstance(inner, dict)
            instead = KINDS[inner["event"]].model_validate(inner)
        entries.append(Entry(f"{index:064x}", event, document, instead))
    engine = Engine.model_validate(
        {"engine": "1", "model": "m", "keeper": "k", "received": "2030-01-01", "hours": "2 h", "seals": {"plate": "S1"}}
    )
    return EngineRecord(engine, document, Log(tuple(entries)))


runs = st.lists(st.tuples(st.integers(0, 400), st.integers(1, 600)), max_size=30)


@given(runs, st.integers(0, 400))
def test_hours_are_the_start_and_every_minute_run_until_the_day(each: list[tuple[int, int]], until: int) -> None:
    events = [{"event": "run", "date": str(START + timedelta(days=d)), "hours": f"{m} min"} for d, m in each]
    on = START + timedelta(days=until)
    minutes = 120
    for d, m in each:
        if d <= until:
            minutes += m
    assert state_of(record(*events), on).hours == Fraction(minutes, 60)


@given(
    st.lists(st.tuples(st.integers(0, 400), st.integers(1, 600)), min_size=1, max_size=20),
    st.lists(st.tuples(st.integers(0, 19), st.one_of(st.none(), st.integers(1, 600))), max_size=10),
    st.integers(0, 400),
)
def test_hours_are_those_of_the_last_word_on_every_run(
    each: list[tuple[int, int]], fixes: list[tuple[int, int | None]], until: int
) -> None:
    """Runs entered in any order; some corrected, some struck out, some more than once: the last word counts."""

    def run(day: int, minutes: int) -> dict[str, object]:
        return {"event": "run", "date": str(START + timedelta(days=day)), "hours": f"{minutes} min"}

    said: list[tuple[int, int | None]] = list(each)
    events = [run(*one) for one in each]
    for which, minutes in fixes:
        index = which % len(each)
        day = each[index][0]
        said[index] = (day, minutes)
        fix = {"event": "correction", "date": str(START), "corrects": f"{index:064x}", "why": "w"}
        events.append({**fix, "instead": run(day, minutes)} if minutes is not None else fix)
    minutes = 120 + sum(m for d, m in said if m is not None and d <= until)
    assert state_of(record(*events), START + timedelta(days=until)).hours == Fraction(minutes, 60)


def test_a_sheet_that_came_back_late_counts_at_the_hours_of_its_day() -> None:
    """Filed after the run of the 5th, signed on the 3rd: the job is one hour old, not none."""
    run = {"event": "run", "hours": "1 h"}
    state = state_of(
        record(
            {**run, "date": "2030-01-02"}, {**run, "date": "2030-01-05"},
            {"event": "service", "date": "2030-01-03", "procedure": "nut-service", "revision": "2"},
        ),
        date(2030, 1, 31),
    )  # fmt: skip
    last = state.last("nut-service")
    assert last is not None
    assert state.hours - last[0].hours == 1


def test_service_renews_reads_and_closes() -> None:
    state = state_of(
        record(
            {"event": "run", "date": "2030-01-02", "hours": "90 min"},
            {"event": "finding", "date": "2030-01-03", "finding": "Nut loose", "calls": "nut-service"},
            {"event": "finding", "date": "2030-01-03", "finding": "Cover cracked"},
            {
                "event": "service", "date": "2030-01-04", "procedure": "nut-service", "revision": "2",
                "readings": {"gap": "0.30 mm", "bore": ["50.01 mm", "50.02 mm"]}, "renewed": {"nut": "N-1"},
                "settings": {"needle": {"found": "1 turn", "left": "1.25 turn"}},
                "seals": {"plate": {"removed": "S1", "fitted": "S2"}}, "findings": ["Stud bent"],
            },
            {"event": "run", "date": "2030-01-05", "hours": "30 min"},
        ),
        date(2030, 1, 31),
    )  # fmt: skip
    assert state.hours == 4
    last = state.last("nut-service")
    assert last is not None
    assert (last[0].day, last[0].hours) == (date(2030, 1, 4), Fraction(7, 2))
    assert [str(v) for v in state.readings["bore"][0].values] == ["50.01 mm", "50.02 mm"]
    assert state.renewed["nut"].hours == Fraction(7, 2)
    assert state.settings == {"needle": (date(2030, 1, 4), "1.25 turn")}
    assert state.seals == {"plate": "S2"}
    assert [f.text for f in state.findings] == ["Cover cracked", "Stud bent"]


def test_correction_stands_for_what_it_corrects() -> None:
    log = (
        {"event": "run", "date": "2030-01-02", "hours": "10 h"},
        {
            "event": "correction", "date": "2030-01-03", "corrects": f"{0:064x}", "why": "minutes typed as hours",
            "instead": {"event": "run", "date": "2030-01-02", "hours": "10 min"},
        },
    )  # fmt: skip
    assert state_of(record(*log), date(2030, 2, 1)).hours == 2 + Fraction(1, 6)


def test_deviation_holds_until_it_is_ended() -> None:
    events: list[dict[str, object]] = [
        {"event": "deviation", "date": "2030-01-02", "item": "stud", "what": "Re-tapped"},
        {"event": "deviation", "date": "2030-03-02", "item": "stud", "what": "New crankcase", "ends": f"{0:064x}"},
    ]
    assert [d.what for d in state_of(record(*events), date(2030, 2, 1)).deviations] == ["Re-tapped"]
    assert state_of(record(*events), date(2030, 4, 1)).deviations == []


def test_keeper_components_and_seals_follow_the_log(tmp_path: Path) -> None:
    state = state_of(
        record(
            {"event": "owner", "date": "2030-01-02", "keeper": "Éva"},
            {"event": "component", "date": "2030-01-02", "component": "carburettor", "fitted": "C-7"},
            {"event": "component", "date": "2030-01-03", "component": "coil", "fitted": "K-1"},
            {"event": "component", "date": "2030-01-04", "component": "coil", "removed": "K-1"},
        ),
        date(2030, 2, 1),
    )
    assert (state.keeper, state.components) == ("Éva", {"carburettor": "C-7"})
