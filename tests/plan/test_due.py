"""What is due, for one engine of the small club whose log is made for each case."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.plan.due import DueLine, due_list
from docgen.plan.season import add_months
from tests.smallclub import write

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
