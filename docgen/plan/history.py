"""An engine's log as lines to read: what happened, at how many hours, on which sheet, and what was corrected."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from docgen.club.folder import EngineRecord, Folder
from docgen.club.log import Held
from docgen.club.schema.event import (
    ComponentMoved,
    Correction,
    Deviation,
    Event,
    Finding,
    IntervalSet,
    Joined,
    OwnerChanged,
    Rebuilt,
    Run,
    Service,
    SettingMade,
)
from docgen.job import wording
from docgen.job.figures import Figures
from docgen.trade.quantity import Quantity


@dataclass(frozen=True)
class Corrected:
    """What a correction says of an event: when, who, why, and what holds instead (empty where nothing does).

    details : in what it differs, where the few words do not say it
    """

    day: date
    by: str
    why: str
    holds: str
    details: tuple[str, ...] = ()


@dataclass(frozen=True)
class Line:
    """One event. ``hours`` are the engine's after it, as the log makes them, None for one that was struck out;
    ``digest`` is its file's."""

    day: date
    hours: Fraction | None
    what: str
    details: tuple[str, ...]
    by: str
    sheet: str
    digest: str
    corrected: Corrected | None = None
    run: bool = False


@dataclass(frozen=True)
class Season:
    """The running of one year."""

    year: int
    hours: Fraction
    days: int


def lines(folder: Folder, record: EngineRecord, figures: Figures, on: date) -> tuple[Line, ...]:
    """Every event up to the day `on`, day by day; a corrected one with its correction, which has no line of its own."""
    after = _hours_after(record)
    found = [
        _line(folder, figures, held, after)
        for held in record.log.held
        if not isinstance(held.entry.event, (Correction, Joined)) and held.entry.event.date <= on
    ]
    return tuple(sorted(found, key=lambda line: line.day))


def seasons(record: EngineRecord, on: date) -> tuple[Season, ...]:
    """The hours run in each year, and on how many days."""
    runs = [event for _, event in record.log.happened if isinstance(event, Run) and event.date <= on]
    years = sorted({run.date.year for run in runs})
    return tuple(
        Season(
            year,
            sum((run.hours.exactly("h") for run in runs if run.date.year == year), Fraction(0)),
            len({run.date for run in runs if run.date.year == year}),
        )
        for year in years
    )


def owners(record: EngineRecord, on: date) -> tuple[tuple[date, str], ...]:
    """Who kept the engine, and since when."""
    changed = [(event.date, event.keeper) for _, event in record.log.happened if isinstance(event, OwnerChanged)]
    return ((record.engine.received, record.engine.keeper), *(one for one in changed if one[0] <= on))


def _hours_after(record: EngineRecord) -> dict[str, Fraction]:
    """The engine's hours after each event that holds, by its digest."""
    hours = record.engine.hours.exactly("h") if record.engine.hours else Fraction(0)
    after: dict[str, Fraction] = {}
    for digest, event in record.log.happened:
        hours += event.hours.exactly("h") if isinstance(event, Run) else 0
        after[digest] = hours
    return after


def _line(folder: Folder, figures: Figures, held: Held, after: dict[str, Fraction]) -> Line:
    event = held.entry.event
    by = held.correction
    corrected = None
    if by is not None and isinstance(by.event, Correction):
        now = held.event
        holds = what(folder, figures, now) if now is not None else ""
        told = tuple(changes(figures, event, now)) if now is not None and holds == what(folder, figures, event) else ()
        corrected = Corrected(by.event.date, by.event.by or "", by.event.why, holds, told)
    return Line(
        day=event.date,
        hours=after.get(held.entry.digest),
        what=what(folder, figures, event),
        details=tuple(details(figures, event)),
        by=_signed(event),
        sheet=getattr(event, "sheet", None) or "",
        digest=held.entry.digest,
        corrected=corrected,
        run=isinstance(event, Run) and corrected is None,
    )


def what(folder: Folder, figures: Figures, event: Event) -> str:
    """An event in a few words."""
    match event:
        case Run():
            ran = f"ran {wording.quantity(event.hours)}" + (f" ({event.sessions})" if event.sessions else "")
            return ran + (f" at {event.meeting}" if event.meeting else "")
        case Service():
            read = folder.procedures.get(event.procedure)
            return f"{read.value.title if read else event.procedure}, revision {event.revision}"
        case Finding():
            return f"closed: {event.finding}" if event.closes else f"found: {event.finding}"
        case Deviation():
            return f"no longer so: {event.what}" if event.ends else f"not as its model: {event.what}"
        case SettingMade():
            return f"{figures.name(event.setting)} set to {event.value}"
        case ComponentMoved():
            return _moved(figures, event)
        case OwnerChanged():
            return f"kept by {event.keeper} from now on"
        case IntervalSet():
            return f"own interval for {event.procedure}: {wording.interval(event.every)}"
        case Rebuilt():
            return f"rebuilt, approved by {event.approved_by}"
        case _:
            return str(getattr(event, "event", ""))


def changes(figures: Figures, before: Event, now: Event) -> Iterator[str]:
    """In which parts an event differs from the one that holds in its place."""
    for name in type(now).model_fields:
        if name == "parents" or getattr(before, name, None) == (new := getattr(now, name)):
            continue
        if name == "readings" and isinstance(before, Service) and isinstance(now, Service):
            for limit in sorted({*before.readings, *now.readings}):
                old, new = before.readings.get(limit, ()), now.readings.get(limit, ())
                if old != new:
                    yield f"{figures.name(limit)}: {_values(new)}, was {_values(old)}"
        elif isinstance(new, (str, Quantity)):
            yield f"{name.replace('_', ' ')}: {new}"
        else:
            yield f"{name.replace('_', ' ')}: not as first entered"


def _values(values: tuple[Quantity, ...]) -> str:
    return " / ".join(wording.quantity(value) for value in values) or "none"


def _moved(figures: Figures, event: ComponentMoved) -> str:
    off = f"{event.removed} off" + (f", to engine {event.to}" if event.to else "") if event.removed else ""
    on = f"{event.fitted} on" + (f", from engine {event.came_from}" if event.came_from else "") if event.fitted else ""
    return f"{figures.name(event.component)}: {'; '.join(filter(None, (off, on)))}"


def details(figures: Figures, event: Event) -> Iterator[str]:
    """What a buyer or a scrutineer would ask next."""
    if isinstance(event, Service):
        if event.renewed:
            by_number: dict[str, list[str]] = {}
            for item, number in event.renewed.items():
                by_number.setdefault(number, []).append(wording.in_text(figures.name(item)))
            yield f"renewed: {'; '.join(f'{wording.listed(names)} ({n})' for n, names in by_number.items())}"
        for part, seal in event.seals.items():
            told = [f"{seal.removed} off" if seal.removed else "", f"{seal.fitted} on" if seal.fitted else ""]
            yield f"seal of the {wording.in_text(figures.name(part))}: {', '.join(filter(None, told))}"
        yield from (f"found: {text}" for text in event.findings)
        yield from (f"remark: {text}" for text in event.remarks)
        bad = [key.replace("-", " ") for key, word in event.checked.items() if word == "not good"]
        if bad:
            yield f"not good: {', '.join(bad)}"
        if event.blank:
            yield f"left blank: {_counted(len(event.blank), 'box', 'boxes')}"
        if event.voided:
            yield f"struck out: {_counted(len(event.voided), 'row', 'rows')}"
    if event.note:
        yield event.note


def _counted(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"


def _signed(event: Event) -> str:
    second = getattr(event, "second", None)
    return ", ".join(filter(None, (event.by, f"with {second}" if second else "")))
