"""What is due, for one engine of the small club whose log is made for each case."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.plan.due import DueLine, Quiet, due_list, quiet_engines
from docgen.plan.season import add_months
from tests.smallclub import texts, write

SIGNED = {"event": "service", "date": "2030-01-10", "procedure": "rotor-service", "revision": "3"}


def lines(root: Path, on: date, *events: dict[str, object]) -> list[DueLine]:
    """The due list of engine 7A (4 h when received) after these events; season: 5 May and 2 June; 1 h a meeting."""
    write(root)
    parents: tuple[str, ...] = ()
    for event in events:
        parents = (digest(append(root / "engines/7A/log", event, parents).read_bytes()),)
    folder = read_club(root)
    assert folder.problems == []
    return due_list(folder, on, ("7A",))


def run(day: str, hours: str, meeting: str = "") -> dict[str, object]:
    """A run event."""
    return {"event": "run", "date": day, "hours": hours, **({"meeting": meeting} if meeting else {})}


@pytest.mark.parametrize(
    ("hours", "on", "state", "reasons"),
    [
        ("2.9 h", date(2030, 2, 1), "in date", ("2.9 h of 5.0 h run since", "every 6 months: is due by 2030-07-10")),
        ("3.1 h", date(2030, 2, 1), "coming", ("3.1 h of 5.0 h run since",)),
        ("4.1 h", date(2030, 2, 1), "due", ("4.1 h of 5.0 h run since",)),
        ("5 h", date(2030, 2, 1), "due", ("5.0 h of 5.0 h run since",)),
        ("5.1 h", date(2030, 2, 1), "overdue", ("5.1 h of 5.0 h run since",)),
        ("1 h", date(2030, 6, 20), "coming", ("every 6 months: is due by 2030-07-10",)),
        ("1 h", date(2030, 6, 28), "due", ("every 6 months: is due by 2030-07-10",)),
        ("1 h", date(2030, 7, 11), "overdue", ("every 6 months: was due by 2030-07-10",)),
    ],
)
def test_interval(tmp_path: Path, hours: str, on: date, state: str, reasons: tuple[str, ...]) -> None:
    (line,) = [x for x in lines(tmp_path, on, SIGNED, run("2030-01-11", hours)) if x.job]
    assert (line.state, line.reasons) == (state, reasons)
    assert line.last_done == "2030-01-10 at 4.0 h"


def test_a_date_before_the_next_round_is_due_before_that_round(tmp_path: Path) -> None:
    signed = {**SIGNED, "date": "2029-11-02"}
    (line,) = [x for x in lines(tmp_path, date(2030, 4, 20), signed) if x.job]
    assert (line.state, line.reasons) == ("due", ("every 6 months: is due by 2030-05-02",))
    assert line.before == "First (2030-05-05)"


def test_never_done_is_due_and_says_so(tmp_path: Path) -> None:
    (line,) = [x for x in lines(tmp_path, date(2030, 2, 1)) if x.job]
    assert (line.state, line.reasons, line.last_done) == (
        "due", ("no record that it was ever done",), "never in this record",
    )  # fmt: skip


def test_finding_that_calls_the_job_makes_it_due_until_it_is_signed(tmp_path: Path) -> None:
    found = {"event": "finding", "date": "2030-01-12", "finding": "Rotor rubs", "calls": "rotor-service"}
    (line,) = [x for x in lines(tmp_path, date(2030, 2, 1), SIGNED, found) if x.job]
    assert (line.state, line.reasons) == ("due", ("found 2030-01-12: Rotor rubs",))
    again = {**SIGNED, "date": "2030-01-13"}
    (line,) = [x for x in lines(tmp_path / "b", date(2030, 2, 1), SIGNED, found, again) if x.job]
    assert line.state == "in date"


def test_part_life_counts_from_the_renewal(tmp_path: Path) -> None:
    (part,) = [x for x in lines(tmp_path, date(2030, 2, 1), run("2030-01-11", "5.5 h")) if not x.job]
    assert (part.title, part.state, part.reasons) == ("rotor", "due", ("rotor: 9.5 h of 10.0 h run",))
    renewed = {**SIGNED, "date": "2030-01-12", "renewed": {"rotor": "R-9"}}
    (part,) = [x for x in lines(tmp_path / "b", date(2030, 2, 1), run("2030-01-11", "5.5 h"), renewed) if not x.job]
    assert (part.state, part.reasons) == ("in date", ("rotor: 0.0 h of 10.0 h run",))


def test_engine_s_own_interval_stands_over_the_procedure_s(tmp_path: Path) -> None:
    own = {"event": "interval", "date": "2030-01-11", "procedure": "rotor-service", "every": {"hours": "2 h"}}
    (line,) = [x for x in lines(tmp_path, date(2030, 2, 1), SIGNED, own, run("2030-01-12", "2.5 h")) if x.job]
    assert (line.state, line.reasons) == ("overdue", ("2.5 h of 2.0 h run since",))


def test_hours_unknown_before_the_record_say_so(tmp_path: Path) -> None:
    folder = read_club(write(tmp_path))
    (part,) = [x for x in due_list(folder, date(2030, 3, 1), ("8B",)) if not x.job]
    assert part.reasons == ("rotor: its age is not known (allowed 10.0 h)",)


def test_most_pressing_first(tmp_path: Path) -> None:
    found = lines(tmp_path, date(2030, 2, 1), SIGNED, run("2030-01-11", "5.1 h"))
    assert [x.state for x in found] == ["overdue", "due"]


@pytest.mark.parametrize(
    ("hours", "on", "before"),
    [
        ("0.5 h", date(2030, 4, 1), ""),  # 4.5 h are left: four meetings, and the season has two more
        ("3.5 h", date(2030, 4, 1), "Second (2030-06-02)"),
        ("4.0 h", date(2030, 4, 1), "Second (2030-06-02)"),
        ("4.1 h", date(2030, 4, 1), "First (2030-05-05)"),
        ("5.5 h", date(2030, 4, 1), "First (2030-05-05)"),
        ("5.5 h", date(2030, 6, 3), ""),
    ],
)
def test_hours_left_give_the_round_before_which(tmp_path: Path, hours: str, on: date, before: str) -> None:
    """One hour a meeting: what is left of 5 h must last over every round before that one."""
    signed = {**SIGNED, "date": "2030-03-10"}
    (line,) = [x for x in lines(tmp_path, on, signed, run("2030-03-11", hours)) if x.job]
    assert line.before == before


def test_an_engine_s_own_hours_a_meeting_stand_over_the_club_s(tmp_path: Path) -> None:
    """Three meetings of half an hour: 1.5 h left are three meetings, not one."""
    short = [run(f"2030-01-{day}", "30 min", f"M{day}") for day in ("11", "12", "13")]
    first = [SIGNED, run("2030-01-10", "2 h", "Long")]
    (line,) = [x for x in lines(tmp_path, date(2030, 2, 1), *first, *short) if x.job]
    assert (line.state, line.usual, line.own, line.last_run) == ("in date", 0.5, True, "2030-01-13")
    (line,) = [x for x in lines(tmp_path / "b", date(2030, 2, 1), SIGNED, run("2030-01-10", "3.5 h")) if x.job]
    assert (line.state, line.usual, line.own) == ("coming", 1.0, False)


def test_meetings_are_counted_by_day_and_name(tmp_path: Path) -> None:
    own = {"event": "interval", "date": "2030-01-11", "procedure": "rotor-service", "every": {"meetings": "3"}}
    practice = [run(f"2030-01-{day}", "6 min", "Practice day") for day in ("12", "13", "19")]
    (line,) = [x for x in lines(tmp_path, date(2030, 2, 1), SIGNED, own, *practice) if x.job]
    assert (line.state, line.reasons) == ("coming", ("2 of 3 meetings run since",))
    more = run("2030-01-26", "6 min", "Practice day")
    (line,) = [x for x in lines(tmp_path / "b", date(2030, 2, 1), SIGNED, own, *practice, more) if x.job]
    assert (line.state, line.reasons) == ("due", ("3 of 3 meetings run since",))


def test_an_open_finding_that_calls_no_job_has_a_line_of_its_own(tmp_path: Path) -> None:
    found = {"event": "finding", "date": "2030-01-12", "finding": "Cover cracked"}
    listed = lines(tmp_path, date(2030, 4, 1), SIGNED, found)
    (line,) = [x for x in listed if x.title == "Open findings"]
    assert (line.job, line.state, line.reasons, line.before) == (
        "", "due", ("found 2030-01-12: Cover cracked",), "First (2030-05-05)",
    )  # fmt: skip


WEARING = {
    "models/willow-80.yaml": texts()["models/willow-80.yaml"].replace(
        "gauge: feelers, new", "of: [rotor], wears: up, gauge: feelers, new"
    )
}


def worn(root: Path, on: date, gaps: list[str], after: str = "0.1 h") -> list[DueLine]:
    """The due list after services an hour apart that read these gaps, and some running after the last."""
    write(root, WEARING)
    parents: tuple[str, ...] = ()
    for n, gap in enumerate(gaps):
        for event in (run(f"2030-01-{n + 10}", "1 h"),
                      {**SIGNED, "date": f"2030-01-{n + 10}", "readings": {"rotor-gap": gap}}):  # fmt: skip
            parents = (digest(append(root / "engines/7A/log", event, parents).read_bytes()),)
    append(root / "engines/7A/log", run("2030-01-25", after), parents)
    folder = read_club(root)
    assert folder.problems == []
    return [line for line in due_list(folder, on, ("7A",)) if line.job]


def test_wear_is_forecast_from_the_last_reading_less_what_ran_since(tmp_path: Path) -> None:
    """0.05 mm an hour, 0.05 mm to the limit of 0.45 mm: one hour, of which 0.1 h and then 0.6 h ran since."""
    gaps = ["0.25 mm", "0.30 mm", "0.35 mm", "0.40 mm"]
    (line,) = worn(tmp_path, date(2030, 2, 1), gaps)
    text = "rotor gap: by the trend of its readings about 0.9 h left (0.6 h to 1.2 h), an estimate"
    assert (line.state, line.reasons) == ("due", (text,))
    (line,) = worn(tmp_path / "b", date(2030, 2, 1), gaps, "0.6 h")
    assert line.reasons == (text.replace("0.9", "0.4").replace("0.6 h to 1.2 h", "0.1 h to 0.7 h"),)
    (line,) = worn(tmp_path / "c", date(2030, 2, 1), gaps, "1.1 h")
    assert (line.state, line.reasons) == (
        "due", ("rotor gap: by the trend of its readings nothing is left, an estimate",),
    )  # fmt: skip


def test_a_reading_past_its_limit_is_overdue(tmp_path: Path) -> None:
    (line,) = worn(tmp_path, date(2030, 2, 1), ["0.30 mm", "0.50 mm"])
    assert (line.state, line.reasons) == ("overdue", ("rotor gap: past its limit on 2030-01-11",))


def test_readings_without_a_trend_say_nothing_of_hours(tmp_path: Path) -> None:
    (line,) = worn(tmp_path, date(2030, 2, 1), ["0.25 mm", "0.25 mm", "0.25 mm"])
    assert line.state == "in date"
    assert not any("rotor gap" in reason for reason in line.reasons)


# --- jobs and parts that go with a component --------------------------------------------------------------------------

CARRIED = {
    "models/willow-80.yaml": texts()["models/willow-80.yaml"].replace(
        "  spacer:\n", "  spacer:\n    part_of: rotor\n    life: 6 h\n"
    ),
    **{
        f"engines/{engine}/engine.yaml": f"{texts()[f'engines/{engine}/engine.yaml']}components: {{rotor: {number}}}\n"
        for engine, number in (("7A", "R-1"), ("8B", "R-2"))
    },
}


def test_a_job_goes_with_its_component_from_engine_to_engine(tmp_path: Path) -> None:
    """R-1 was seen to on 7A, ran 2 h there, went to 8B and ran 1.5 h there: 3.5 h since, by 7A's service."""
    write(tmp_path, CARRIED)
    swap = {"event": "component", "date": "2030-01-20", "component": "rotor"}
    logs = {
        "7A": [SIGNED, run("2030-01-11", "2 h"), {**swap, "removed": "R-1", "fitted": "R-2"}],
        "8B": [{**swap, "date": "2030-02-05", "removed": "R-2", "fitted": "R-1"}, run("2030-02-06", "1.5 h")],
    }
    for engine, events in logs.items():
        parents: tuple[str, ...] = ()
        for event in events:
            parents = (digest(append(tmp_path / "engines" / engine / "log", event, parents).read_bytes()),)
    folder = read_club(tmp_path)
    assert folder.problems == []
    found = {line.engine: line for line in due_list(folder, date(2030, 3, 1)) if line.job}
    assert found["8B"].reasons == ("spacer: 7.5 h of 6.0 h run", "3.5 h of 5.0 h run since")
    assert found["8B"].last_done == "2030-01-10 to rotor R-1, on engine 7A"
    assert (found["7A"].state, found["7A"].reasons[:1], found["7A"].last_done) == (
        "due", ("no record that it was ever done to rotor R-2",), "never in this record",
    )  # fmt: skip


def test_a_part_s_life_goes_with_its_component(tmp_path: Path) -> None:
    """The spacer rides on R-1, which was 4 h old when 7A came, ran 1 h there and then 0.5 h on 8B."""
    write(tmp_path, CARRIED)
    swap = {"event": "component", "date": "2030-02-05", "component": "rotor"}
    append(tmp_path / "engines/8B/log", run("2030-02-06", "30 min"), (
        digest(append(tmp_path / "engines/8B/log", {**swap, "removed": "R-2", "fitted": "R-1"}, ()).read_bytes()),
    ))  # fmt: skip
    append(tmp_path / "engines/7A/log", {**swap, "removed": "R-1"}, (
        digest(append(tmp_path / "engines/7A/log", run("2030-02-01", "1 h"), ()).read_bytes()),
    ))  # fmt: skip
    folder = read_club(tmp_path)
    assert folder.problems == []
    (line,) = [x for x in due_list(folder, date(2030, 3, 1), ("8B",)) if x.job]
    assert "spacer: 5.5 h of 6.0 h run" in line.reasons


LARGER = """\
procedure: strip-down
title: Strip-down
code: STR
revision: 1
dated: 2030-01-15
needs: [rotor-drive]
covers: [rotor-service]
every: {months: 24}
stages:
  - stage: All of it
    steps:
      - {do: Measure the rotor gap., measure: rotor-gap}
      - {do: Look at the spacer., look: {id: spacer-seen, accept: Flat, fail: {renews: [spacer]}}}
"""


def test_a_job_that_contains_another_counts_as_it(tmp_path: Path) -> None:
    write(tmp_path, {"procedures/strip-down.yaml": LARGER})
    events = [
        {**SIGNED, "date": "2029-08-01"},
        {"event": "finding", "date": "2030-01-12", "finding": "Rotor rubs", "calls": "rotor-service"},
        {**SIGNED, "date": "2030-01-20", "procedure": "strip-down", "revision": "1"},
    ]
    parents: tuple[str, ...] = ()
    for event in events:
        parents = (digest(append(tmp_path / "engines/7A/log", event, parents).read_bytes()),)
    folder = read_club(tmp_path)
    assert folder.problems == []
    found = {line.job: line for line in due_list(folder, date(2030, 2, 1), ("7A",))}
    assert (found["rotor-service"].state, found["rotor-service"].last_done) == ("in date", "2030-01-20 at 4.0 h")
    assert found["strip-down"].state == "in date"


# --- running that nobody entered --------------------------------------------------------------------------------------


def test_engines_whose_running_nobody_enters_are_named(tmp_path: Path) -> None:
    write(tmp_path)
    append(tmp_path / "engines/7A/log", run("2030-04-01", "1 h"), ())
    folder = read_club(tmp_path)
    assert quiet_engines(folder, date(2030, 4, 1)) == []
    assert quiet_engines(folder, date(2030, 6, 1)) == [Quiet("8B", date(2030, 2, 1), False, 1)]
    assert quiet_engines(folder, date(2030, 6, 3), ("7A",)) == [Quiet("7A", date(2030, 4, 1), True, 2)]


@pytest.mark.parametrize(
    ("day", "months", "until"),
    [
        (date(2030, 1, 31), 1, date(2030, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2030, 8, 15), 6, date(2031, 2, 15)),
        (date(2030, 12, 1), 12, date(2031, 12, 1)),
    ],
)
def test_months_are_calendar_months(day: date, months: int, until: date) -> None:
    assert add_months(day, months) == until


# --- an engine that came in -------------------------------------------------------------------------------------------

CAME = {
    "procedures/arrival.yaml": """\
procedure: arrival
title: Arrival
code: ARR
revision: 1
dated: 2030-01-15
needs: [rotor-drive]
every: {occasion: when an engine comes in, on_receipt: true}
stages:
  - stage: All of it
    steps:
      - {do: Look at the side plate., look: {id: plate-seen, accept: Whole.}}
""",
}


def came(root: Path, how: str, *events: dict[str, object], also: str = "") -> dict[str, DueLine]:
    """The jobs of engine 8B, received on 1 February 2030, a month later."""
    text = texts()["engines/8B/engine.yaml"] + f"{how}\n{also}"
    write(root, {**CARRIED, **CAME, "engines/8B/engine.yaml": text})
    parents: tuple[str, ...] = ()
    for event in events:
        parents = (digest(append(root / "engines/8B/log", event, parents).read_bytes()),)
    folder = read_club(root)
    assert folder.problems == []
    return {line.job: line for line in due_list(folder, date(2030, 3, 1), ("8B",))}


def test_a_new_engine_counts_from_the_day_it_came(tmp_path: Path) -> None:
    found = came(tmp_path, "came: new", run("2030-02-10", "2.5 h"))
    rotor = found["rotor-service"]
    assert (rotor.state, rotor.last_done) == ("in date", "not yet; new on 2030-02-01")
    assert rotor.reasons == (
        "2.5 h of 5.0 h run since",
        "spacer: 2.5 h of 6.0 h run",
        "every 6 months: is due by 2030-08-01",
    )
    assert came(tmp_path / "b", "came: new", run("2030-02-10", "5.5 h"))["rotor-service"].state == "overdue"


def test_what_a_new_engine_needs_first_is_to_be_looked_at(tmp_path: Path) -> None:
    for at, how in enumerate(("came: new", "came: used", "hours: 3 h")):
        first, *others = came(tmp_path / str(at), how).values()
        assert (first.job, first.state, first.reasons) == ("arrival", "due", ("came in on 2030-02-01",))
        assert first.before == "First (2030-05-05)"
        assert others
    signed = {**SIGNED, "date": "2030-02-03"}
    assert "arrival" not in came(tmp_path / "other", "came: used", signed)
    assert "arrival" not in came(tmp_path / "itself", "came: used", {**signed, "procedure": "arrival", "revision": "1"})


@pytest.mark.parametrize("how", ["came: used", "hours: 0 h", "came: used\nhours: 3 h"])
def test_of_a_used_engine_nothing_is_known(tmp_path: Path, how: str) -> None:
    rotor = came(tmp_path, how, run("2030-02-10", "2.5 h"))["rotor-service"]
    assert (rotor.state, rotor.last_done) == ("due", "never in this record")
    assert "no record that it was ever done" in rotor.reasons


def test_a_component_counts_from_the_day_it_came_new(tmp_path: Path) -> None:
    fitted = {"event": "component", "date": "2030-02-12", "component": "rotor", "fitted": "R-9"}
    ran = run("2030-02-10", "4 h"), run("2030-02-13", "1 h")
    new = came(tmp_path, "came: used", ran[0], {**fitted, "before": "0 h"}, ran[1])["rotor-service"]
    assert (new.state, new.last_done) == ("in date", "not yet; new on 2030-02-12")
    assert new.reasons == (
        "1.0 h of 5.0 h run since",
        "spacer: 1.0 h of 6.0 h run",
        "every 6 months: is due by 2030-08-12",
    )
    for at, before in enumerate(({}, {"before": "2 h"})):
        old = came(tmp_path / f"old{at}", "came: used", ran[0], {**fitted, **before}, ran[1])["rotor-service"]
        assert "no record that it was ever done to rotor R-9" in old.reasons
        assert old.last_done == "never in this record"
