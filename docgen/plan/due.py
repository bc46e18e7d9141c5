"""What is due on an engine on a day, by hours, months, meetings, part life and open findings.

The states, from the pressing to the quiet one:

overdue    the interval is used up: hours or date are past
due        it runs out before or during the next race meeting
coming     it runs out before or during the meeting after that
in date    none of these

Hours count against the club's usual hours a meeting; dates against the season's next two rounds, or 14
and 42 days ahead where no round is near.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.club import Club
from docgen.club.schema.model import Interval, Model
from docgen.club.schema.procedure import Procedure
from docgen.job import wording
from docgen.job.expand import expand
from docgen.job.state import EngineState, Moment, state_of
from docgen.plan.season import add_months, coming_rounds

OVERDUE, DUE, COMING, IN_DATE = "overdue", "due", "coming", "in date"
STATES = (OVERDUE, DUE, COMING, IN_DATE)
SOON, LATER = timedelta(days=14), timedelta(days=42)


@dataclass(frozen=True)
class Reason:
    """One reason with its state; ``share`` is what is used up of what is allowed, for sorting."""

    state: str
    text: str
    share: float


@dataclass(frozen=True)
class DueLine:
    """One job (or one life-limited part that no job renews) on one engine."""

    engine: str
    model: str
    keeper: str
    job: str
    title: str
    code: str
    state: str
    reasons: tuple[str, ...]
    share: float
    last_done: str

    def to_json(self) -> dict[str, object]:
        """The line as plain values."""
        return {**self.__dict__, "reasons": list(self.reasons), "share": round(self.share, 3)}


@dataclass(frozen=True)
class _Days:
    on: date
    next: date
    after: date
    next_name: str
    after_name: str


def due_list(folder: Folder, on: date, engines: tuple[str, ...] = ()) -> list[DueLine]:
    """Every job on every engine (or on those named) with its state on the day, the most pressing first."""
    lines = [
        line
        for number, record in sorted(folder.engines.items())
        if (not engines or number in engines) and record.engine.model in folder.models
        for line in _engine_lines(folder, record, on)
    ]
    return sorted(lines, key=lambda line: (STATES.index(line.state), -line.share, line.engine, line.job))


def _engine_lines(folder: Folder, record: EngineRecord, on: date) -> Iterator[DueLine]:
    assert folder.club is not None
    club, model, state = folder.club.value, folder.models[record.engine.model].value, state_of(record, on)
    days = _days(club, on)
    renewing = _renewed_by(folder, model)
    worn: dict[str, list[Reason]] = {}
    for name in {**model.parts, **model.fasteners}:
        reason = _life(model, state, name, club, days)
        if reason is not None:
            worn.setdefault(renewing.get(name, ""), []).append(reason)
    for procedure in folder.for_model(model):
        last = state.last(procedure.procedure)
        every = state.intervals.get(procedure.procedure) or model.intervals.get(procedure.procedure) or procedure.every
        reasons = [*_by_interval(procedure, every, last[0] if last else None, state, club, days),
                   *worn.pop(procedure.procedure, []), *_found(procedure, state)]  # fmt: skip
        if every is not None or reasons:
            yield _line(record, state, model, procedure.procedure, procedure.title, procedure.code, reasons, last)
    for reason in [r for group in worn.values() for r in group]:
        yield _line(record, state, model, "", reason.text.partition(":")[0], "", [reason], None)


def _line(
    record: EngineRecord, state: EngineState, model: Model, job: str, title: str, code: str, reasons: list[Reason],
    last: tuple[Moment, object] | None,
) -> DueLine:  # fmt: skip
    reasons = sorted(reasons, key=lambda r: (STATES.index(r.state), -r.share))
    worst = reasons[0].state if reasons else IN_DATE
    texts = tuple(r.text for r in reasons if r.state == worst or r.state != IN_DATE)
    done = f"{last[0].day.isoformat()} at {wording.hours(last[0].hours)}" if last else "never in this record"
    share = max((r.share for r in reasons), default=0.0)
    return DueLine(record.engine.engine, model.title, state.keeper, job, title, code, worst, texts, share, done)


def _days(club: Club, on: date) -> _Days:
    rounds = coming_rounds(club, on)
    first = rounds[0] if rounds and rounds[0].date <= on + 2 * LATER else None
    second = rounds[1] if first and len(rounds) > 1 else None
    upcoming = first.date if first else on + SOON
    later = second.date if second else (first.date if first else on) + LATER
    return _Days(on, upcoming, later, first.round if first else "", second.round if second else "")


def _by_interval(
    procedure: Procedure, every: Interval | None, last: Moment | None, state: EngineState, club: Club, days: _Days
) -> Iterator[Reason]:
    if every is None:
        return
    if last is None:
        yield Reason(DUE, "no record that it was ever done", 1.0)
        return
    if every.hours is not None:
        used, allowed = state.hours - last.hours, every.hours.exactly("h")
        yield Reason(
            _by_hours(used, allowed, club),
            f"{wording.hours(used)} of {wording.hours(allowed)} run since",
            float(used / allowed),
        )
    if every.months is not None:
        until = add_months(last.day, every.months)
        share = (days.on - last.day).days / max(1, (until - last.day).days)
        yield Reason(_by_date(until, days), _date_text(until, every.months, days), share)
    if every.meetings is not None:
        ran = len({r.meeting or r.date for m, r in state.runs if m.day > last.day})
        left = every.meetings - ran
        word = OVERDUE if left < 0 else DUE if left == 0 else COMING if left == 1 else IN_DATE
        yield Reason(word, f"{ran} of {every.meetings} meetings run since", ran / every.meetings)


def _by_hours(used: Fraction, allowed: Fraction, club: Club) -> str:
    left, meeting = allowed - used, club.hours_a_meeting.exactly("h")
    if left < 0:
        return OVERDUE
    return DUE if left < meeting else COMING if left < 2 * meeting else IN_DATE


def _by_date(until: date, days: _Days) -> str:
    if until < days.on:
        return OVERDUE
    return DUE if until <= days.next else COMING if until <= days.after else IN_DATE


def _date_text(until: date, months: int, days: _Days) -> str:
    every = "month" if months == 1 else f"{months} months"
    name = days.next_name if until <= days.next else days.after_name if until <= days.after else ""
    before = f", before {name}" if name and until >= days.on else ""
    return f"every {every}: {'was' if until < days.on else 'is'} due by {until.isoformat()}{before}"


def _life(model: Model, state: EngineState, name: str, club: Club, days: _Days) -> Reason | None:
    item = model.parts.get(name) or model.fasteners[name]
    if item.life is None:
        return None
    renewed = state.renewed.get(name)
    used, allowed = state.hours - (renewed.hours if renewed else Fraction(0)), item.life.exactly("h")
    if renewed is None and not state.hours_known:
        return Reason(
            DUE, f"{wording.item_name(name, item.name)}: its age is not known (allowed {wording.hours(allowed)})", 1.0
        )
    word = _by_hours(used, allowed, club)
    return Reason(
        word,
        f"{wording.item_name(name, item.name)}: {wording.hours(used)} of {wording.hours(allowed)} run",
        float(used / allowed),
    )


def _found(procedure: Procedure, state: EngineState) -> Iterator[Reason]:
    for finding in state.findings:
        if finding.calls == procedure.procedure:
            yield Reason(DUE, f"found {finding.day.isoformat()}: {finding.text}", 1.0)


def _renewed_by(folder: Folder, model: Model) -> dict[str, str]:
    """For each part, the job that renews it: for sure, else if a check fails, else as a spare."""
    ways: list[dict[str, str]] = [{}, {}, {}]
    for procedure in folder.for_model(model):
        read = folder.procedures[procedure.procedure]
        for placed in expand(read, folder.sequences, model):
            step = placed.step
            fails = [f for f in (step.look and step.look.fail, step.measure and step.measure.fail) if f]
            for name in step.renews:
                ways[0].setdefault(name.partition("/")[0], procedure.procedure)
            for name in (n for f in fails for n in f.renews or ()):
                ways[1].setdefault(name.partition("/")[0], procedure.procedure)
        for name in procedure.spares:
            ways[2].setdefault(name.partition("/")[0], procedure.procedure)
    return ways[2] | ways[1] | ways[0]
