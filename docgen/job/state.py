"""An engine's state on a day, computed from its log: nothing of this is ever stored."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from docgen.club.folder import EngineRecord
from docgen.club.schema.engine import Before
from docgen.club.schema.event import (
    ComponentMoved,
    Deviation,
    Event,
    Finding,
    IntervalSet,
    OwnerChanged,
    Run,
    Service,
    SettingMade,
)
from docgen.club.schema.model import Interval
from docgen.trade.quantity import Quantity


@dataclass(frozen=True)
class Moment:
    """A day, and the engine's hours on it."""

    day: date
    hours: Fraction


@dataclass(frozen=True)
class Reading:
    """What was measured, when, at how many engine hours; one value for each position."""

    at: Moment
    values: tuple[Quantity, ...]


@dataclass(frozen=True)
class OpenFinding:
    """Something found that nothing later has closed; ``digest`` is its event's, with ``/n`` behind it for a service.

    ``by`` is the job whose check called for another one, where nobody wrote a text; ``spares`` are those that it asks
    for.
    """

    day: date
    text: str
    item: str | None
    calls: str | None
    digest: str = ""
    by: str = ""
    spares: tuple[str, ...] = ()


@dataclass
class EngineState:
    """Hours, seals, components, deviations, last services and readings of one engine on one day.

    ``fitted`` says when a numbered component was last put on, where that is in the log; ``start`` the hours when the
    record began, ``came`` whether the engine came new or used, ``before`` what was done before then.
    """

    hours: Fraction
    hours_known: bool
    keeper: str
    since: date
    seals: dict[str, str]
    components: dict[str, str]
    deviations: list[Deviation] = field(default_factory=list)
    services: dict[str, list[tuple[Moment, Service]]] = field(default_factory=dict)
    readings: dict[str, list[Reading]] = field(default_factory=dict)
    settings: dict[str, tuple[date, str]] = field(default_factory=dict)
    renewed: dict[str, Moment] = field(default_factory=dict)
    fitted: dict[str, Moment] = field(default_factory=dict)
    findings: list[OpenFinding] = field(default_factory=list)
    intervals: dict[str, Interval] = field(default_factory=dict)
    runs: list[tuple[Moment, Run]] = field(default_factory=list)
    start: Fraction = Fraction(0)
    came: str = ""
    before: dict[str, Before] = field(default_factory=dict)

    def last(self, procedure: str) -> tuple[Moment, Service] | None:
        """The last time that a procedure was signed."""
        return self.services[procedure][-1] if self.services.get(procedure) else None

    def deviation_of(self, item: str) -> Deviation | None:
        """The deviation in force for an item; the latest where there are several."""
        return next((d for d in reversed(self.deviations) if d.item == item), None)


def state_of(record: EngineRecord, on: date) -> EngineState:
    """The engine's state at the end of the day `on`, from the events of its log in the order in which they happened."""
    engine = record.engine
    start = engine.hours.exactly("h") if engine.hours else Fraction(0)
    known = engine.hours is not None or engine.came == "new"
    state = EngineState(start, known, engine.keeper, engine.received, dict(engine.seals), dict(engine.components),
                        start=start, came=engine.came or "", before=dict(engine.before))  # fmt: skip
    open_by_digest: dict[str, OpenFinding] = {}
    deviations: dict[str, Deviation] = {}
    for digest, event in record.log.happened:
        if event.date <= on:
            _take(state, event, digest, open_by_digest, deviations)
    state.findings = list(open_by_digest.values())
    state.deviations = list(deviations.values())
    return state


def _take(
    state: EngineState, event: Event, digest: str, findings: dict[str, OpenFinding], deviations: dict[str, Deviation]
) -> None:
    if isinstance(event, Run):
        state.hours += event.hours.exactly("h")
        state.runs.append((Moment(event.date, state.hours), event))
    elif isinstance(event, Service):
        _take_service(state, event, digest, findings)
    elif isinstance(event, Finding):
        _close(findings, event.closes)
        if not event.closes:
            findings[digest] = OpenFinding(event.date, event.finding, event.item, event.calls, digest)
    elif isinstance(event, Deviation):
        for ended in [d for d in deviations if event.ends and d.startswith(event.ends)]:
            del deviations[ended]
        if not event.ends:
            deviations[digest] = event
    elif isinstance(event, SettingMade):
        state.settings[event.setting] = (event.date, event.value)
    elif isinstance(event, ComponentMoved):
        if event.fitted:
            state.components[event.component] = event.fitted
            state.fitted[event.component] = Moment(event.date, state.hours)
        else:
            state.components.pop(event.component, None)
        state.seals.pop(event.component, None)
        if event.fitted and event.fitted_seal:
            state.seals[event.component] = event.fitted_seal
    elif isinstance(event, OwnerChanged):
        state.keeper = event.keeper
    elif isinstance(event, IntervalSet):
        state.intervals[event.procedure] = event.every


def _take_service(state: EngineState, event: Service, digest: str, findings: dict[str, OpenFinding]) -> None:
    moment = Moment(event.date, state.hours)
    state.services.setdefault(event.procedure, []).append((moment, event))
    for limit, values in event.readings.items():
        state.readings.setdefault(limit, []).append(Reading(moment, values))
    for item in event.renewed:
        state.renewed[item] = moment
    for setting, noted in event.settings.items():
        if noted.left:
            state.settings[setting] = (event.date, noted.left)
    for part, seal in event.seals.items():
        if seal.fitted:
            state.seals[part] = seal.fitted
        elif seal.removed:
            state.seals.pop(part, None)
    for closed in [d for d, f in findings.items() if _answered(f, event)]:
        del findings[closed]
    for dealt in event.dealt_with:
        findings.pop(dealt.finding, None)
    for index, text in enumerate(event.findings):
        findings[f"{digest}/{index}"] = OpenFinding(event.date, text, None, None, f"{digest}/{index}")
    for called in event.calls:
        text = f"{event.procedure}: what was found calls for {called}"
        at, by = f"{digest}/{called}", event.procedure
        findings[at] = OpenFinding(event.date, text, None, called, at, by)
    for lead in event.leads_on:
        at = f"{digest}/{lead.check}"
        findings[at] = OpenFinding(event.date, lead.what, None, lead.calls, at, spares=lead.spares)


def _answered(finding: OpenFinding, event: Service) -> bool:
    """Whether a signed job is what a finding called for; where it called for spares alone, whether they were fitted."""
    if finding.calls:
        return finding.calls == event.procedure
    return bool(finding.spares) and set(finding.spares) <= set(event.renewed)


def _close(findings: dict[str, OpenFinding], digest: str | None) -> None:
    """Take away a finding, or with a digest alone every finding of that event."""
    for closed in [d for d in findings if digest and (d == digest or d.partition("/")[0].startswith(digest))]:
        del findings[closed]
