"""What a meeting is, how long an engine usually runs at one, and which round comes next."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from docgen.club.schema.club import Club
from docgen.club.schema.event import Run
from docgen.job.state import Moment
from docgen.plan.season import ahead, meetings, usual_hours

CLUB = Club.model_validate(
    {
        "club": "C", "bench_distance": "600 mm", "hours_a_meeting": "1 h",
        "season": [{"round": "Second", "date": "2030-06-02"}, {"round": "First", "date": "2030-05-05"}],
    }
)  # fmt: skip


def runs(*each: tuple[str, str, str]) -> list[tuple[Moment, Run]]:
    """Day, hours and meeting of each run."""
    found, total = [], Fraction(0)
    for day, hours, meeting in each:
        run = Run.model_validate({"event": "run", "date": day, "hours": hours, "meeting": meeting or None})
        total += run.hours.exactly("h")
        found.append((Moment(run.date, total), run))
    return found


@pytest.mark.parametrize(
    ("each", "found"),
    [
        ([], []),
        ([("2030-05-05", "30 min", ""), ("2030-05-05", "12 min", "")], [("", "05-05", "7/10")]),
        ([("2030-05-05", "30 min", ""), ("2030-05-05", "12 min", "First")], [("First", "05-05", "7/10")]),
        ([("2030-05-04", "30 min", "First"), ("2030-05-05", "30 min", "First")], [("First", "05-05", "1")]),
        ([("2030-05-04", "30 min", ""), ("2030-05-05", "30 min", "")], [("", "05-04", "1/2"), ("", "05-05", "1/2")]),
        ([("2030-05-05", "30 min", "Morning"), ("2030-05-05", "30 min", "Evening")],
         [("Morning", "05-05", "1/2"), ("Evening", "05-05", "1/2")]),
        ([("2030-05-05", "30 min", "Practice day"), ("2030-05-12", "30 min", "Practice day")],
         [("Practice day", "05-05", "1/2"), ("Practice day", "05-12", "1/2")]),
    ],
)  # fmt: skip
def test_runs_that_belong_together(each: list[tuple[str, str, str]], found: list[tuple[str, str, str]]) -> None:
    assert [(m.name, m.last.strftime("%m-%d"), str(m.hours)) for m in meetings(runs(*each))] == found


def test_usual_hours_are_the_median_of_the_last_six_meetings() -> None:
    def days(*minutes: int) -> list[tuple[Moment, Run]]:
        return runs(*((f"2030-05-{n + 1:02}", f"{m} min", f"M{n}") for n, m in enumerate(minutes)))

    assert usual_hours(days(60, 60)) is None
    assert usual_hours(days(60, 72, 6)) == 1
    assert usual_hours(days(6, 6, 6, 6, 60, 60, 60, 72, 72, 84)) == Fraction(66, 60)


@pytest.mark.parametrize(
    ("on", "soon", "later", "rounds"),
    [
        ("2030-04-01", "2030-05-05", "2030-06-02", ["First", "Second"]),
        ("2030-05-05", "2030-05-05", "2030-06-02", ["First", "Second"]),
        ("2030-05-06", "2030-06-02", "2030-07-14", ["Second"]),
        ("2030-07-01", "2030-07-15", "2030-08-12", []),
        ("2030-01-01", "2030-01-15", "2030-02-12", ["First", "Second"]),
    ],
)
def test_what_lies_ahead(on: str, soon: str, later: str, rounds: list[str]) -> None:
    found = ahead(CLUB, date.fromisoformat(on), None)
    assert (str(found.next), str(found.after), [r.round for r in found.rounds]) == (soon, later, rounds)
    assert found.hours == 1
    assert ahead(CLUB, date.fromisoformat(on), Fraction(3, 2)).hours == Fraction(3, 2)


def test_the_round_before_which() -> None:
    found = ahead(CLUB, date(2030, 4, 1), None)
    assert [r.round if (r := found.at(n)) else None for n in (0, 1, 2, -1)] == ["First", "Second", None, None]
    until = [date(2030, 5, 5), date(2030, 5, 6), date(2030, 7, 1)]
    assert [r.round if (r := found.from_day(day)) else None for day in until] == ["First", "Second", None]
