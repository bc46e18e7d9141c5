"""Numbered components through all their engines: where each was, what it ran there, when it was seen to.

Hours on an engine are counted in that engine's own log, between the events that put the component on and
took it off; so nothing depends on how the days of two logs fall together.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.engine import Before
from docgen.club.schema.event import ComponentMoved, Run, Service
from docgen.club.schema.model import Model
from docgen.trade.life import Fitted, Life, Ran, Removed, lives


@dataclass
class Stint:
    """A component's time on one engine.

    until    : the day it came off; None while it is on
    hours    : run there
    before   : run before the record knew it, None where that is not known; heeded for the first stint only
    renewed  : what was renewed on it, by item: hours of this stint at which it was
    services : jobs signed while it was on: their day, and hours of this stint
    """

    part: str
    number: str
    engine: str
    since: date
    until: date | None = None
    hours: Fraction = Fraction(0)
    before: Fraction | None = None
    renewed: dict[str, Fraction] = field(default_factory=dict)
    services: dict[str, tuple[date, Fraction]] = field(default_factory=dict)


@dataclass(frozen=True)
class Done:
    """When and on which engine a job was done to a component, and what it ran since."""

    day: date
    engine: str
    since: Fraction


@dataclass(frozen=True)
class Component:
    """A numbered component and its stints, oldest first."""

    part: str
    number: str
    stints: tuple[Stint, ...]

    @property
    def life(self) -> Life:
        """Its hours and its place."""
        events: list[Ran | Fitted | Removed] = []
        for index, stint in enumerate(self.stints):
            events += [Fitted(self.number, stint.engine, stint.before), Ran(stint.engine, stint.hours)]
            if stint.until is not None or index + 1 < len(self.stints):
                events.append(Removed(self.number))
        return lives(events)[self.number]

    def since_renewed(self, item: str) -> Fraction | None:
        """Hours since a part of it was renewed; since it was new where that never was; None where that is not known."""
        after = Fraction(0)
        for stint in reversed(self.stints):
            if item in stint.renewed:
                return after + stint.hours - stint.renewed[item]
            after += stint.hours
        return self.life.since_new

    @property
    def new_since(self) -> date | None:
        """The day on which the record of it began, where it was new then."""
        first = self.stints[0]
        return first.since if first.before == 0 else None

    def last_done(self, *procedures: str) -> Done | None:
        """The last time that one of these jobs was signed on an engine that carried it."""
        after = Fraction(0)
        for stint in reversed(self.stints):
            done = [stint.services[name] for name in procedures if name in stint.services]
            if done:
                day, hours = max(done)
                return Done(day, stint.engine, after + stint.hours - hours)
            after += stint.hours
        return None


def components(folder: Folder, on: date) -> dict[tuple[str, str], Component]:
    """Every numbered component of the club, by part and number, as of the end of the day `on`."""
    stints: dict[tuple[str, str], list[Stint]] = {}
    for _, record in sorted(folder.engines.items()):
        model = folder.models.get(record.engine.model)
        for stint in stints_of(record, model.value if model else None, on):
            stints.setdefault((stint.part, stint.number), []).append(stint)
    return {
        key: Component(*key, tuple(sorted(each, key=lambda s: (s.since, s.until or date.max))))
        for key, each in stints.items()
    }


def stints_of(record: EngineRecord, model: Model | None, on: date) -> list[Stint]:
    """What was on one engine, and for how long."""
    engine = record.engine
    start = engine.hours.exactly("h") if engine.hours else Fraction(0) if engine.came == "new" else None
    mounted = {
        part: Stint(part, number, engine.engine, engine.received, before=start)
        for part, number in engine.components.items()
    }
    every = list(mounted.values())
    for name, told in engine.before.items():
        _known_before(mounted, model, name, told)
    for _, event in record.log.happened:
        if event.date > on:
            continue
        if isinstance(event, Run):
            for stint in mounted.values():
                stint.hours += event.hours.exactly("h")
        elif isinstance(event, ComponentMoved):
            off = mounted.pop(event.component, None)
            if off is not None:
                off.until = event.date
            if event.fitted:
                before = event.before.exactly("h") if event.before else None
                stint = Stint(event.component, event.fitted, engine.engine, event.date, before=before)
                mounted[event.component] = stint
                every.append(stint)
        elif isinstance(event, Service):
            _serviced(mounted, event, model)
    return every


def _known_before(mounted: dict[str, Stint], model: Model | None, name: str, before: Before) -> None:
    """What the record says of the time before it began, in hours of the first stint: less than nothing."""
    if before.ago is None:
        return
    ago = before.ago.exactly("h")
    carrier = carrier_of(model, name, mounted)
    if carrier is not None:
        mounted[carrier].renewed[name] = -ago
    elif before.on is not None:
        for stint in mounted.values():
            stint.services[name] = (before.on, -ago)


def _serviced(mounted: dict[str, Stint], event: Service, model: Model | None) -> None:
    for stint in mounted.values():
        stint.services[event.procedure] = (event.date, stint.hours)
    for item in event.renewed if model is not None else ():
        carrier = carrier_of(model, item, mounted)
        if carrier is not None:
            mounted[carrier].renewed[item] = mounted[carrier].hours


def carrier_of(model: Model | None, item: str, numbered: Iterable[str]) -> str | None:
    """The numbered component that a part or fastener rides on: itself, or what it is part of; None where none is."""
    known = set(numbered)
    seen: set[str] = set()
    name: str | None = item
    while model is not None and name is not None and name not in seen:
        if name in known:
            return name
        seen.add(name)
        found = model.parts.get(name) or model.fasteners.get(name)
        name = found.part_of if found is not None else None
    return None
