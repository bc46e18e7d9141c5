"""Time on the bench: minutes of work, waits for cure and soak, and the earliest time that the engine may run."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Quantity


@dataclass(frozen=True)
class Work:
    """One step of work and how long the hands are busy with it."""

    key: str
    time: timedelta


@dataclass(frozen=True)
class Wait:
    """A cure or soak: runs from the end of one step and must be over before another begins, or before the engine runs.

    before : key of the later step, None for running the engine
    why    : for the sheet, as `threadlocker cures`
    """

    after: str
    time: timedelta
    before: str | None
    why: str


@dataclass(frozen=True)
class Slot:
    """When a step is done."""

    key: str
    starts: datetime
    ends: datetime


@dataclass(frozen=True)
class Schedule:
    """How the time goes.

    hands_on : work alone          idle : standing still between steps, waiting
    done     : end of the last step
    ready    : earliest time that the engine may run
    governs  : the wait that sets `ready`, None when it is the work itself
    """

    slots: tuple[Slot, ...]
    hands_on: timedelta
    idle: timedelta
    done: datetime
    ready: datetime
    governs: Wait | None


def duration(quantity: Quantity) -> timedelta:
    """Return a quantity of time as a timedelta, to the microsecond.

    Errors: QuantityError `no-fixed-length` for months, `wrong-dimension` for what is no time.
    Source: arithmetic of exact fractions.

    >>> from docgen.trade.quantity import parse_quantity
    >>> print(duration(parse_quantity("1.5 h")))
    1:30:00
    """
    return timedelta(microseconds=round(quantity.exactly("s") * 1_000_000))


def schedule(start: datetime, work: Sequence[Work], waits: Sequence[Wait] = ()) -> Schedule:
    """Lay the steps one after the other from `start`, each as soon as the waits before it are over.

    start : local time of the bench; the clocks are taken not to change meanwhile
    Errors: TradeError `no-work`, `step-twice`, `unknown-step`, `wait-backwards`, `negative-time`.
    Source: arithmetic.

    >>> day = datetime(2026, 3, 7, 9, 0)
    >>> steps = [Work("tighten", timedelta(minutes=10)), Work("close", timedelta(minutes=5))]
    >>> found = schedule(day, steps, [Wait("tighten", timedelta(hours=24), None, "threadlocker cures")])
    >>> print(found.done, "|", found.ready)
    2026-03-07 09:15:00 | 2026-03-08 09:10:00
    """
    _check(work, waits)
    ends: dict[str, datetime] = {}
    slots: list[Slot] = []
    now = start
    for step in work:
        begin = max([now, *(ends[wait.after] + wait.time for wait in waits if wait.before == step.key)])
        now = begin + step.time
        ends[step.key] = now
        slots.append(Slot(step.key, begin, now))
    ready, governs = now, None
    for wait in waits:
        if wait.before is None and ends[wait.after] + wait.time > ready:
            ready, governs = ends[wait.after] + wait.time, wait
    hands_on = sum((step.time for step in work), timedelta())
    return Schedule(tuple(slots), hands_on, now - start - hands_on, now, ready, governs)


def _check(work: Sequence[Work], waits: Sequence[Wait]) -> None:
    if not work:
        raise TradeError("no-work", "there is no step to put on the clock")
    places: dict[str, int] = {}
    for place, step in enumerate(work):
        if step.key in places:
            raise TradeError("step-twice", f"step {step.key} stands on the clock twice")
        places[step.key] = place
    for wait in waits:
        for key in (wait.after, wait.before):
            if key is not None and key not in places:
                raise TradeError("unknown-step", f"{wait.why}: there is no step {key}")
        if wait.before is not None and places[wait.before] <= places[wait.after]:
            raise TradeError("wait-backwards", f"{wait.why}: step {wait.before} does not come after {wait.after}")
    for what, time in [*((step.key, step.time) for step in work), *((wait.why, wait.time) for wait in waits)]:
        if time < timedelta():
            raise TradeError("negative-time", f"{what} takes less than no time")
