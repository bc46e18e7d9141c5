"""Days and rounds: calendar months, what a meeting is, how long an engine runs at one, and which round comes next."""

import calendar
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from statistics import median

from docgen.club.schema.club import Club, Round
from docgen.club.schema.event import Run
from docgen.job.state import Moment

ENOUGH, LAST = 3, 6
"""Meetings from which on an engine's own hours count, and how many of the last ones are looked at."""
SOON, LATER = timedelta(days=14), timedelta(days=42)
"""What stands for the next two meetings where no round is near."""
TWO_DAYS = timedelta(days=3)
"""Within this a meeting of the same name goes on."""


def add_months(day: date, months: int) -> date:
    """The same day so many calendar months later; the month's last day where it is shorter.

    >>> add_months(date(2026, 8, 31), 6)
    datetime.date(2027, 2, 28)
    """
    month = day.month - 1 + months
    year, month = day.year + month // 12, month % 12 + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def coming_rounds(club: Club, on: date) -> list[Round]:
    """The rounds from the day `on` onwards, in order."""
    return sorted((r for r in club.season if r.date >= on), key=lambda r: r.date)


@dataclass
class Meeting:
    """Running that belongs together: one day, or a few days under one name."""

    name: str
    first: date
    last: date
    hours: Fraction


def meetings(runs: Iterable[tuple[Moment, Run]]) -> list[Meeting]:
    """The meetings that an engine's runs make, oldest first."""
    found: list[Meeting] = []
    for moment, run in runs:
        name, hours = run.meeting or "", run.hours.exactly("h")
        now = found[-1] if found else None
        if now is not None and _goes_on(now, name, moment.day):
            now.name, now.last, now.hours = now.name or name, moment.day, now.hours + hours
        else:
            found.append(Meeting(name, moment.day, moment.day, hours))
    return found


def _goes_on(now: Meeting, name: str, day: date) -> bool:
    if day == now.last:
        return not name or not now.name or name == now.name
    return bool(name) and name == now.name and day - now.last <= TWO_DAYS


def usual_hours(runs: Iterable[tuple[Moment, Run]]) -> Fraction | None:
    """Hours that an engine usually runs at a meeting: the median of its last six; None where it had less than three."""
    last = meetings(runs)[-LAST:]
    return median([meeting.hours for meeting in last]) if len(last) >= ENOUGH else None


@dataclass(frozen=True)
class Ahead:
    """What lies before one engine on a day.

    hours  : what it usually runs at a meeting
    rounds : the rounds of the season from that day on
    next, after : the days of the next two meetings, by the season or by the calendar
    """

    on: date
    hours: Fraction
    rounds: tuple[Round, ...]
    next: date
    after: date

    def at(self, count: int) -> Round | None:
        """The round that comes after `count` more of them."""
        return self.rounds[count] if 0 <= count < len(self.rounds) else None

    def from_day(self, until: date) -> Round | None:
        """The first round that is not before this day."""
        return next((r for r in self.rounds if r.date >= until), None)


def ahead(club: Club, on: date, usual: Fraction | None) -> Ahead:
    """What lies before an engine that usually runs `usual` hours a meeting (None: as many as the club says)."""
    rounds = coming_rounds(club, on)
    first = rounds[0] if rounds and rounds[0].date <= on + 2 * LATER else None
    second = rounds[1] if first and len(rounds) > 1 else None
    soon = first.date if first else on + SOON
    later = second.date if second else (first.date if first else on) + LATER
    hours = usual if usual else club.hours_a_meeting.exactly("h")
    return Ahead(on, hours, tuple(rounds), soon, later)
