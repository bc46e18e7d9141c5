"""Why a job is due: its interval, a part's life, wear, and what was found; each with its state and its round.

The states, from the pressing to the quiet one:

overdue    the interval is used up: hours or date are past
due        it runs out before or during the next race meeting
coming     it runs out before or during the meeting after that
in date    none of these
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal, NamedTuple

from docgen.club.schema.club import Round
from docgen.club.schema.model import Interval
from docgen.club.words import Words, message
from docgen.job import wording
from docgen.job.figures import Figures
from docgen.job.readings import wear
from docgen.job.state import OpenFinding
from docgen.plan.lives import PartLife
from docgen.plan.season import Ahead, add_months

OVERDUE, DUE, COMING, IN_DATE = message("overdue"), message("due"), message("coming"), message("in date")
STATES = (OVERDUE, DUE, COMING, IN_DATE)


@dataclass(frozen=True)
class Scale:
    """What is used up of what is allowed, in hours, days or meetings, for a bar.

    used   : None where it is not known, as when the record does not hold that a job was ever done
    part   : the part whose life it is; empty for a job's interval
    until  : the day on which an interval of months runs out
    """

    unit: Literal["hours", "days", "meetings"]
    used: Fraction | None
    allowed: Fraction
    ahead: Ahead
    part: str = ""
    until: date | None = None

    @property
    def rounds(self) -> tuple[Fraction, ...]:
        """What will be used up when each of the season's coming rounds is over, in their order."""
        if self.used is None:
            return ()
        if self.unit == "days":
            return tuple(self.used + (one.date - self.ahead.on).days for one in self.ahead.rounds)
        each = self.ahead.hours if self.unit == "hours" else 1
        return tuple(self.used + n * each for n, _ in enumerate(self.ahead.rounds, 1))


class Dated(NamedTuple):
    """An interval of so many months from a day; ``by_then``: it was done on that day or earlier."""

    day: date
    months: int
    by_then: bool


class Reason(NamedTuple):
    """One reason with its state; ``share`` is what is used up of what is allowed, for sorting.

    before : the round before which it must be done, where the season has one
    dated  : what the reason counts from that is another on each day, by :func:`by_date`
    """

    state: str
    text: str
    share: float
    before: Round | None = None
    scale: Scale | None = None
    dated: Dated | None = None


@dataclass(frozen=True)
class Since:
    """The last time that a job was done: the day, the hours run since, the meetings held since.

    at_least : the hours are those since the record began; what it ran before is not known
    by_then  : it was done on this day or earlier; the day itself is not known
    """

    day: date
    hours: Fraction
    meetings: int
    at_least: bool = False
    by_then: bool = False


def by_interval(every: Interval, last: Since | None, ahead: Ahead, never: str, w: Words) -> Iterator[Reason]:
    """The reasons of an interval; `never` says it where there is no record of the job."""
    if last is None:
        nothing_known = Scale("hours", None, every.hours.exactly("h") if every.hours else Fraction(0), ahead)
        yield Reason(DUE, never, 1.0, ahead.at(0), nothing_known)
        return
    if every.hours is not None:
        allowed = every.hours.exactly("h")
        said = message("at least {hours} of {allowed} run since; what it ran before the record is not known"
                       if last.at_least else "{hours} of {allowed} run since")  # fmt: skip
        text = w(said, hours=wording.hours(last.hours, w), allowed=wording.hours(allowed, w))
        yield _hours_left(last.hours, allowed, text, ahead)
    if every.months is not None:
        yield by_date(Dated(last.day, every.months, last.by_then), ahead, w)
    if every.meetings is not None:
        left = every.meetings - last.meetings
        word = OVERDUE if left < 0 else DUE if left == 0 else COMING if left == 1 else IN_DATE
        share = last.meetings / every.meetings if every.meetings else 1.0
        text = w("{count} of {allowed} meetings run since", count=last.meetings, allowed=every.meetings)
        scale = Scale("meetings", Fraction(last.meetings), Fraction(every.meetings), ahead)
        yield Reason(word, text, share, ahead.at(max(left, 0)), scale)


def on_receipt(day: date, ahead: Ahead, w: Words) -> Reason:
    """An engine that came in and was not looked at yet: before anything else that is due on it."""
    return Reason(DUE, w("came in on {day}", day=day.isoformat()), 2.0, ahead.at(0))


def _hours_left(used: Fraction, allowed: Fraction, text: str, ahead: Ahead, part: str = "") -> Reason:
    left, share = allowed - used, float(used / allowed) if allowed else 1.0
    before = ahead.at(max(0, left // ahead.hours)) if ahead.hours else None
    return Reason(_by_hours(left, ahead), text, share, before, Scale("hours", used, allowed, ahead, part))


def _by_hours(left: Fraction, ahead: Ahead) -> str:
    if left < 0:
        return OVERDUE
    return DUE if left < ahead.hours else COMING if left < 2 * ahead.hours else IN_DATE


def by_date(dated: Dated, ahead: Ahead, w: Words) -> Reason:
    """An interval of months against the days of the next meetings."""
    day, months, by_then = dated
    until = add_months(day, months)
    share = (ahead.on - day).days / max(1, (until - day).days)
    scale = Scale("days", Fraction((ahead.on - day).days), Fraction((until - day).days), ahead, until=until)
    every = wording.months(months, w)
    if until < ahead.on:
        text = w("every {months}: was due by {day}", months=every, day=until.isoformat())
        return Reason(OVERDUE, text, share, ahead.at(0), scale, dated)
    word = DUE if until <= ahead.next else COMING if until <= ahead.after else IN_DATE
    said = message("every {months}: is due by {day} at the latest; the day it was done is not known" if by_then
                   else "every {months}: is due by {day}")  # fmt: skip
    return Reason(word, w(said, months=every, day=until.isoformat()), share, ahead.from_day(until), scale, dated)


def by_life(life: PartLife, ahead: Ahead, w: Words) -> Reason:
    """A part's life against its hours."""
    allowed = wording.hours(life.allowed, w)
    if life.used is None:
        unknown = Scale("hours", None, life.allowed, ahead, life.name)
        text = w("{part}: its age is not known (allowed {allowed})", part=life.name, allowed=allowed)
        return Reason(DUE, text, 1.0, ahead.at(0), unknown)
    text = w("{part}: {hours} of {allowed} run", part=life.name, hours=wording.hours(life.used, w), allowed=allowed)
    return _hours_left(life.used, life.allowed, text, ahead, life.name)


def by_wear(figures: Figures, limit: str, ahead: Ahead, w: Words) -> Reason | None:
    """What the readings of a limit say; None where they say nothing of the hours left.

    A forecast counts from the last reading, so what ran since is taken off. It is an estimate, and calls nothing
    overdue; a reading past the limit does.
    """
    readings = figures.state.readings.get(limit, [])
    found = wear(figures, limit, readings)
    if found is None:
        return None
    name = figures.name(limit)
    if found.kind == "past-limit":
        day = readings[-1].at.day.isoformat()
        return Reason(OVERDUE, w("{reading}: past its limit on {day}", reading=name, day=day), 1.0, ahead.at(0))
    if found.left is None:
        return None
    ran = figures.state.hours - readings[-1].at.hours
    left = Fraction(found.left) - ran
    low = left if found.left_low is None else Fraction(found.left_low) - ran
    word = _by_hours(max(left, Fraction(0)), ahead)
    if word == IN_DATE and low < ahead.hours:
        word = COMING
    low_said, high_said = (_bound(hours, ran, w) for hours in (found.left_low, found.left_high))
    said = message("{reading}: by the trend of its readings about {hours} left ({low} to {high}), an estimate"
                   if left > 0 else "{reading}: by the trend of its readings nothing is left, an estimate")  # fmt: skip
    text = w(said, reading=name, hours=wording.hours(left, w), low=low_said, high=high_said)
    share = float(1 - left / (left + ran)) if left + ran > 0 else 1.0
    return Reason(word, text, share, ahead.at(max(0, left // ahead.hours)) if ahead.hours else None)


def _bound(hours: float | None, ran: Fraction, w: Words) -> str:
    return w("more") if hours is None else wording.hours(max(Fraction(hours) - ran, Fraction(0)), w)


def by_finding(finding: OpenFinding, spares: list[str], ahead: Ahead, w: Words) -> Reason:
    """Something found that is still open, with the spares that it asks for."""
    what = wording.found_text(finding, w)
    what += f"; {w('to be fitted new: {parts}', parts=wording.listed(spares, w))}" if spares else ""
    text = w("found {day}: {what}", day=finding.day.isoformat(), what=what)
    return Reason(DUE, text, 1.0, ahead.at(0))
