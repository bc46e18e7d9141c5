"""What the record says against a day, hours, and a time."""

from __future__ import annotations

from datetime import date

import pytest

from docgen.club.folder import EngineRecord
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.returns.checks import said_of_day, said_of_hours, said_of_running
from docgen.trade.quantity import parse_quantity
from tests.smallclub import write

TODAY = date(2030, 6, 10)


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> dict[str, EngineRecord]:
    """Both engines ran 2 h on 5 May 2030; 7A came with 4 h in March 2029, 8B with hours that nobody knows."""
    root = write(tmp_path_factory.mktemp("club"))
    for engine in ("7A", "8B"):
        append(root / "engines" / engine / "log", {"event": "run", "date": "2030-05-05", "hours": "2 h"}, ())
    return read_club(root).engines


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (TODAY, []),
        (date(2030, 5, 5), []),
        (date(2030, 6, 11), ["refused date-in-future: 2030-06-11 has not come yet: today is 2030-06-10"]),
        (date(2029, 2, 28), ["refused date-before-record: the record of engine 7A begins on 2029-03-01"]),
        (date(2029, 3, 1), ["doubt date-before-last-event: one event is filed for engine 7A after 2029-03-01, "
                            "the last of 2030-05-05"]),
    ],
)  # fmt: skip
def test_days(records: dict[str, EngineRecord], day: date, said: list[str]) -> None:
    assert [f"{s.weight} {s.name}: {s.message}" for s in said_of_day(records["7A"], day, TODAY)] == said


@pytest.mark.parametrize(
    ("hours", "day", "said"),
    [
        ("6.0 h", TODAY, []),
        ("6.1 h", TODAY, []),
        ("5.9 h", TODAY, []),
        ("360 min", TODAY, []),
        ("5.8 h", TODAY, ["doubt hours-lower: 5.8 h is less than the 6.0 h that engine 7A had before 2030-06-10"]),
        ("7.5 h", TODAY, ["note running-not-entered: 7.5 h is more than the 6.0 h in the log of engine 7A: "
                          "1.5 h of running were not entered"]),
        # On the day itself the sheet may have been signed before or after the running.
        ("4.0 h", date(2030, 5, 5), []),
        ("6.0 h", date(2030, 5, 5), []),
        ("3.8 h", date(2030, 5, 5),
         ["doubt hours-lower: 3.8 h is less than the 4.0 h that engine 7A had before 2030-05-05"]),
    ],
)  # fmt: skip
def test_hours(records: dict[str, EngineRecord], hours: str, day: date, said: list[str]) -> None:
    found = said_of_hours(records["7A"], parse_quantity(hours), day)
    assert [f"{s.weight} {s.name}: {s.message}" for s in found] == said


def test_a_meter_whose_start_nobody_knows_is_not_judged(records: dict[str, EngineRecord]) -> None:
    assert said_of_hours(records["8B"], parse_quantity("300 h"), TODAY) == []


@pytest.mark.parametrize(
    ("hours", "day", "said"),
    [
        ("36 min", TODAY, []),
        ("6 h", TODAY, []),
        ("0 h", TODAY, ["refused no-running: engine 7A did not run"]),
        ("6.1 h", TODAY, ["doubt long-running: 6.1 h on 2030-06-10 is a long time for engine 7A"]),
        ("25 h", TODAY, ["refused longer-than-a-day: 25.0 h on 2030-06-10 is longer than a day"]),
        ("5 h", date(2030, 5, 5), ["doubt long-running: 7.0 h on 2030-05-05 is a long time for engine 7A"]),
    ],
)
def test_running(records: dict[str, EngineRecord], hours: str, day: date, said: list[str]) -> None:
    found = said_of_running(records["7A"], parse_quantity(hours), day)
    assert [f"{s.weight} {s.name}: {s.message}" for s in found] == said
