"""What is due on an engine on a day: by hours, months, meetings, part life, wear and open findings.

Hours count against the engine's usual hours a meeting (its own where it has enough meetings, else the
club's); dates against the season's next two rounds, or 14 and 42 days ahead where no round is near. A
job that sees to a numbered component counts from when it was last done to that component, on whatever
engine that was.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.engine import Before
from docgen.club.schema.event import Run
from docgen.club.schema.model import Interval
from docgen.club.schema.procedure import Procedure
from docgen.club.words import Words
from docgen.job import wording
from docgen.job.components import Component, components
from docgen.job.figures import Figures
from docgen.job.state import EngineState, Moment, state_of
from docgen.plan.jobs import Jobs, jobs_of
from docgen.plan.lives import part_lives
from docgen.plan.reasons import (
    COMING,
    DUE,
    IN_DATE,
    OVERDUE,
    STATES,
    Reason,
    Since,
    by_finding,
    by_interval,
    by_life,
    by_wear,
    on_receipt,
)
from docgen.plan.season import Ahead, add_months, ahead, meetings, usual_hours

__all__ = ["COMING", "DUE", "IN_DATE", "OVERDUE", "STATES", "DueLine", "Quiet", "due_list", "quiet_engines"]

SILENCE = 2
"""Months without any running entered after which somebody should look."""

Parts = Mapping[tuple[str, str], Component]


class Heading(NamedTuple):
    """What a line says whatever the day: see :class:`DueLine`."""

    engine: str
    model: str
    keeper: str
    job: str
    title: str
    code: str
    last_done: str
    usual: float
    own: bool
    last_run: str


class DueLine(NamedTuple):
    """One job (or what no job sees to: a part, a finding) on one engine.

    before  : the round before which it must be done, and its day; empty where the season has none
    usual   : hours that the engine usually runs at a meeting; `own`: by its own log, else by the club's figure
    last_run : the last day on which any running was entered; empty where none was
    every   : every reason, in date or not, the most pressing first; for bars, not for a script
    """

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
    before: str = ""
    usual: float = 0.0
    own: bool = False
    last_run: str = ""
    every: tuple[Reason, ...] = ()

    def to_json(self) -> dict[str, object]:
        """The line as plain values."""
        rounded = {"share": round(self.share, 3), "usual": round(self.usual, 3)}
        plain = {key: value for key, value in self._asdict().items() if key != "every"}
        return {**plain, "reasons": list(self.reasons), **rounded}


@dataclass(frozen=True)
class Quiet:
    """An engine for which no running was entered for months, although `rounds` rounds were held meanwhile."""

    engine: str
    since: date
    ever: bool
    rounds: int


def due_list(folder: Folder, on: date, engines: tuple[str, ...] = ()) -> list[DueLine]:
    """Every job on every engine (or on those named) with its state on the day, the most pressing first."""
    jobs = {name: jobs_of(folder, read.value) for name, read in folder.models.items()}
    parts = components(folder, on)
    lines = [
        line
        for number, record in sorted(folder.engines.items())
        if (not engines or number in engines) and record.engine.model in folder.models
        for line in _engine_lines(folder, record, jobs[record.engine.model], parts, on)
    ]
    return sorted(lines, key=pressing_first)


def pressing_first(line: DueLine) -> tuple[int, float, str, str]:
    """The order of the list."""
    return (STATES.index(line.state), -line.share, line.engine, line.job)


def quiet_engines(folder: Folder, on: date, engines: tuple[str, ...] = ()) -> list[Quiet]:
    """The engines (or those of the ones named) whose running nobody entered for two months, or ever."""
    found: list[Quiet] = []
    for number, record in sorted(folder.engines.items()):
        if not engines or number in engines:
            runs = [event.date for event in record.log.of(Run) if event.date <= on]
            found += quiet_since(folder, number, max(runs, default=record.engine.received), bool(runs), on)
    return found


def quiet_since(folder: Folder, engine: str, since: date, ever: bool, on: date) -> Iterator[Quiet]:
    """The engine, where that is so long ago that somebody should look."""
    if add_months(since, SILENCE) < on:
        rounds = folder.club.value.season if folder.club_file else ()
        yield Quiet(engine, since, ever, sum(since < r.date < on for r in rounds))


@dataclass(frozen=True)
class _Engine:
    """One engine with all that its lines are made from."""

    record: EngineRecord
    figures: Figures
    jobs: Jobs
    parts: Parts
    ahead: Ahead
    own: bool

    @property
    def state(self) -> EngineState:
        return self.figures.state

    @property
    def words(self) -> Words:
        return self.figures.words

    @property
    def untouched(self) -> bool:
        """Whether no job was signed since it came in."""
        return not self.state.services

    @property
    def new(self) -> Since | None:
        """The day on which it came new, and what it ran since; None for one that came used, or nobody says how."""
        if self.record.engine.came != "new":
            return None
        return Since(self.state.since, self.state.hours, _meetings(self, self.state.hours))

    def last(self, procedure: str) -> Moment | None:
        """When a job was last signed on this engine, by itself or within a larger one."""
        found = [last[0] for name in self.jobs.doing(procedure) if (last := self.state.last(name)) is not None]
        return max(found, key=lambda moment: (moment.day, moment.hours), default=None)

    def carried(self, procedure: str) -> Component | None:
        """The component that a job goes with, where it has been on another engine or came from the shelf."""
        for part in self.jobs.carriers(procedure, self.state.components):
            component = self.parts.get((part, self.state.components[part]))
            if component is not None and part in self.state.fitted:
                return component
        return None


def _engine_lines(folder: Folder, record: EngineRecord, jobs: Jobs, parts: Parts, on: date) -> Iterator[DueLine]:
    state = state_of(record, on)
    usual = usual_hours(state.runs)
    figures = Figures(folder.club.value, jobs.model, state)
    one = _Engine(record, figures, jobs, parts, ahead(folder.club.value, on, usual), usual is not None)
    seen_to = _seen_to(one)
    for procedure in folder.for_model(jobs.model):
        name = procedure.procedure
        every = state.intervals.get(name) or jobs.model.intervals.get(name) or procedure.every
        reasons = [*_by_interval(one, name, every), *seen_to.pop(name, [])]
        if (every is not None and every.counted) or reasons:
            yield _line(one, reasons, procedure)
    for title, reasons in _left_over(seen_to, one.words):
        yield _line(one, reasons, title=title)


def _by_interval(one: _Engine, name: str, every: Interval | None) -> Iterator[Reason]:
    w = one.words
    if every is not None and every.on_receipt and one.untouched:
        yield on_receipt(one.state.since, one.ahead, w)
    if every is None or not every.counted:
        return  # an occasion makes nothing due
    component = one.carried(name)
    if component is None:
        yield from by_interval(every, _since(one, name), one.ahead, w("no record that it was ever done"), w)
        return
    done = component.last_done(*one.jobs.doing(name))
    last = Since(done.day, done.since, _meetings(one, done.since)) if done else _new(one, component)
    part = one.figures.in_text(component.part)
    never = w("no record that it was ever done to {part} {number}", part=part, number=component.number)
    yield from by_interval(every, last, one.ahead, never, w)


def _new(one: _Engine, component: Component) -> Since | None:
    """A component that came new, and what it ran since; of one whose past is not known, None."""
    day, ran = component.new_since, component.life.since_new
    return Since(day, ran, _meetings(one, min(ran, one.state.hours))) if day is not None and ran is not None else None


def _since(one: _Engine, name: str) -> Since | None:
    last = one.last(name)
    if last is None:
        return _before_the_record(one, name) or one.new
    ran = one.state.hours - last.hours
    return Since(last.day, ran, _meetings(one, ran))


def _before_the_record(one: _Engine, name: str) -> Since | None:
    """What the engine's file says of the job, from before the record began."""
    told = _told_before(one, name)
    if told is None:
        return None
    ran = one.state.hours - one.state.start
    known = told.ago.exactly("h") if told.ago else Fraction(0)
    return Since(told.on or one.state.since, ran + known, _meetings(one, ran), told.ago is None, told.on is None)


def _told_before(one: _Engine, name: str) -> Before | None:
    found = [one.state.before[job] for job in one.jobs.doing(name) if job in one.state.before]
    return max(found, key=lambda before: before.on or date.min, default=None)


def _meetings(one: _Engine, hours: Fraction) -> int:
    """Meetings at which the engine ran within its last so many hours."""
    after = one.state.hours - hours
    return len(meetings(run for run in one.state.runs if run[0].hours > after))


def _seen_to(one: _Engine) -> dict[str, list[Reason]]:
    """Reasons of parts, wear and findings, by the job that sees to them; those that no job sees to under a title."""
    found: dict[str, list[Reason]] = {}
    for life in part_lives(one.figures, dict(one.parts)):
        key = one.jobs.renewing.get(life.item, f"!{life.name}")
        found.setdefault(key, []).append(by_life(life, one.ahead, one.words))
    for limit in (name for name in one.jobs.model.limits if name in one.state.readings):
        reason = by_wear(one.figures, limit, one.ahead, one.words)
        if reason is not None:
            key = one.jobs.measuring.get(limit, f"!{one.figures.name(limit)}")
            found.setdefault(key, []).append(reason)
    for finding in one.state.findings:
        larger = [one.state.last(name) for name in one.jobs.doing(finding.calls)[1:]] if finding.calls else []
        if any(last is not None and last[0].day >= finding.day for last in larger):
            continue
        renewing = (one.jobs.renewing.get(spare.partition("/")[0]) for spare in finding.spares)
        key = finding.calls or next(filter(None, renewing), f"!{one.words('Open findings')}")
        spares = [one.figures.in_text(spare) for spare in finding.spares]
        found.setdefault(key, []).append(by_finding(finding, spares, one.ahead, one.words))
    return found


def _left_over(seen_to: dict[str, list[Reason]], w: Words) -> Iterator[tuple[str, list[Reason]]]:
    for key, reasons in seen_to.items():
        yield key.removeprefix("!") if key.startswith("!") else w("Open findings that call for {job}", job=key), reasons


def _line(one: _Engine, reasons: list[Reason], procedure: Procedure | None = None, title: str = "") -> DueLine:
    job = procedure.procedure if procedure else ""
    heading = Heading(
        engine=one.record.engine.engine,
        model=one.jobs.model.title,
        keeper=one.state.keeper,
        job=job,
        title=procedure.title if procedure else title,
        code=procedure.code if procedure else "",
        last_done=_last_done(one, job),
        usual=float(one.ahead.hours),
        own=one.own,
        last_run=one.state.runs[-1][0].day.isoformat() if one.state.runs else "",
    )
    return line_of(heading, reasons)


def line_of(heading: Heading, reasons: list[Reason]) -> DueLine:
    """The line that reasons make."""
    reasons = sorted(reasons, key=lambda r: (STATES.index(r.state), -r.share))
    worst = reasons[0].state if reasons else IN_DATE
    shown = [r for r in reasons if r.state == worst or r.state != IN_DATE]
    rounds = [r.before for r in shown if r.before is not None]
    first = min(rounds, key=lambda r: r.date) if rounds else None
    share = max([r.share for r in reasons], default=0.0)
    before = f"{first.round} ({first.date.isoformat()})" if first else ""
    said = tuple([r.text for r in shown])
    return DueLine(*heading[:6], worst, said, share, heading.last_done, before, *heading[7:], tuple(reasons))


def _last_done(one: _Engine, job: str) -> str:
    component, w = one.carried(job), one.words
    done = component.last_done(*one.jobs.doing(job)) if component is not None else None
    if component is not None and done is not None and done.engine != one.record.engine.engine:
        part = one.figures.in_text(component.part)
        elsewhere = {"day": done.day.isoformat(), "part": part, "number": component.number, "engine": done.engine}
        return w("{day} to {part} {number}, on engine {engine}", **elsewhere)
    last = one.last(job) if component is None or done is not None else None
    if last is not None:
        return w("{day} at {hours}", day=last.day.isoformat(), hours=wording.hours(last.hours, w))
    told = _told_before(one, job) if component is None else None
    if told is not None:
        if told.on is None and told.ago is not None:
            return w("{hours} before this record began", hours=wording.hours(told.ago.exactly("h"), w))
        return w("{day}, before this record", day=told.on.isoformat() if told.on else "")
    new = _new(one, component) if component is not None else one.new
    return w("not yet; new on {day}", day=new.day.isoformat()) if new is not None else w("never in this record")
