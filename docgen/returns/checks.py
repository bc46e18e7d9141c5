"""What the record itself says against an event: its day, the engine's hours, the time that it claims to have run."""

from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from docgen.club.folder import EngineRecord
from docgen.club.log import Log
from docgen.job import wording
from docgen.job.state import state_of
from docgen.returns.diagnostic import Said
from docgen.returns.filing import same_in
from docgen.trade.quantity import Quantity

LONG_DAY = Fraction(6)
"""Hours on a track in one day that somebody should look at twice."""
TENTH = Fraction(1, 10)
"""What an hour meter that shows tenths cannot tell apart."""


def said_of_day(record: EngineRecord, day: date, today: date) -> list[Said]:
    """The day of an event: not in the future, not before the engine came, and a doubt when later events are filed."""
    number, received = record.engine.engine, record.engine.received
    if day > today:
        return [Said("refused", "date-in-future", f"{day} has not come yet: today is {today}",
                     "write the day on which it was done")]  # fmt: skip
    if day < received:
        return [Said("refused", "date-before-record", f"the record of engine {number} begins on {received}",
                     f"{day} is before that: look at the year")]  # fmt: skip
    later = [event.date for event in record.log.events if event.date > day]
    if not later:
        return []
    events = "one event is" if len(later) == 1 else f"{len(later)} events are"
    return [Said("doubt", "date-before-last-event",
                 f"{events} filed for engine {number} after {day}, the last of {max(later)}",
                 "it is filed all the same when that is how it was")]  # fmt: skip


def said_again(log: Log, event: Mapping[str, Any]) -> list[Said]:
    """A doubt where the record says the very same of the same day already, as after a command that was cut off."""
    there = same_in(log, event)
    if there is None:
        return []
    message = f"the record says this very thing of {event['date']} already, as {there.file}"
    return [Said("doubt", "said-already", message, "it is written a second time when it happened twice")]


def said_of_hours(record: EngineRecord, hours: Quantity, day: date) -> list[Said]:
    """The engine hours that somebody noted, against those that follow from the log.

    Nothing is said where the hours before the record are not known: a meter and the log then differ by those.
    """
    if record.engine.hours is None:
        return []
    number, noted = record.engine.engine, hours.exactly("h")
    least = state_of(record, day - timedelta(days=1)).hours
    most = state_of(record, day).hours
    if noted < least - TENTH:
        return [Said("doubt", "hours-lower",
                     f"{wording.hours(noted)} is less than the {wording.hours(least)} that engine {number} had before "
                     f"{day}", "look at the meter again; if the log is wrong, correct the run in it")]  # fmt: skip
    if noted > most + TENTH:
        missing = wording.hours(noted - most)
        return [Said("note", "running-not-entered",
                     f"{wording.hours(noted)} is more than the {wording.hours(most)} in the log of engine {number}: "
                     f"{missing} of running were not entered",
                     f"docgen ran {number} MINUTES --on DAY enters them")]  # fmt: skip
    return []


def said_of_running(record: EngineRecord, hours: Quantity, day: date) -> list[Said]:
    """The time of one day's running: more than nothing, no more than a day has, and a doubt when it is long."""
    number, ran = record.engine.engine, hours.exactly("h")
    if ran <= 0:
        return [Said("refused", "no-running", f"engine {number} did not run", "write how long, as in 3 x 12 min")]
    before = sum((r.hours.exactly("h") for m, r in state_of(record, day).runs if m.day == day), Fraction(0))
    if before + ran > 24:
        return [Said("refused", "longer-than-a-day", f"{wording.hours(before + ran)} on {day} is longer than a day",
                     "members give minutes, as in 3 x 12 min")]  # fmt: skip
    if before + ran > LONG_DAY:
        message = f"{wording.hours(before + ran)} on {day} is a long time for engine {number}"
        return [Said("doubt", "long-running", message, "were these minutes?")]
    return []
