"""Days and rounds: calendar months, and which race meeting comes next."""

from __future__ import annotations

import calendar
from datetime import date

from docgen.club.schema.club import Club, Round


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
