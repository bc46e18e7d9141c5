"""An engine's log as lines to read: what happened, at how many hours, on which sheet, and what was corrected."""

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
from docgen.club.words import Words
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
        by=_signed(event, figures.words),
        sheet=getattr(event, "sheet", None) or "",
        digest=held.entry.digest,
        corrected=corrected,
        run=isinstance(event, Run) and corrected is None,
    )


def what(folder: Folder, figures: Figures, event: Event) -> str:
    """An event in a few words."""
    w = figures.words
    match event:
        case Run():
            hours, sessions = wording.quantity(event.hours, w), event.sessions
            ran = w("ran {hours} ({sessions})" if sessions else "ran {hours}", hours=hours, sessions=sessions)
            return w("{ran} at {meeting}", ran=ran, meeting=event.meeting) if event.meeting else ran
        case Service():
            read = folder.procedures.get(event.procedure)
            title = read.value.title if read else event.procedure
            return w("{title}, revision {revision}", title=title, revision=event.revision)
        case Finding():
            return w("closed: {what}" if event.closes else "found: {what}", what=event.finding)
        case Deviation():
            return w("no longer so: {what}" if event.ends else "not as its model: {what}", what=event.what)
        case SettingMade():
            return w("{setting} set to {value}", setting=figures.name(event.setting), value=event.value)
        case ComponentMoved():
            return _moved(figures, event, w)
        case OwnerChanged():
            return w("kept by {keeper} from now on", keeper=event.keeper)
        case IntervalSet():
            every = wording.interval(event.every, w)
            return w("own interval for {job}: {interval}", job=event.procedure, interval=every)
        case Rebuilt():
            return w("rebuilt, approved by {by}", by=event.approved_by)
        case _:
            return str(getattr(event, "event", ""))


def changes(figures: Figures, before: Event, now: Event) -> Iterator[str]:
    """In which parts an event differs from the one that holds in its place."""
    w = figures.words
    for name in type(now).model_fields:
        if name == "parents" or getattr(before, name, None) == (new := getattr(now, name)):
            continue
        if name == "readings" and isinstance(before, Service) and isinstance(now, Service):
            for limit in sorted({*before.readings, *now.readings}):
                old, new = before.readings.get(limit, ()), now.readings.get(limit, ())
                if old != new:
                    said = {"reading": figures.name(limit), "now": _values(new, w), "before": _values(old, w)}
                    yield w("{reading}: {now}, was {before}", **said)
        elif isinstance(new, (str, Quantity)):
            yield f"{_entered(name, w)}: {w.number(new) if isinstance(new, Quantity) else new}"
        else:
            yield w("{what}: not as first entered", what=_entered(name, w))


def _entered(name: str, w: Words) -> str:
    """What an event's file calls what was entered, in words (the catalogue knows every field of an event)."""
    return w.pgettext("entered", name.replace("_", " "))


def _values(values: tuple[Quantity, ...], w: Words) -> str:
    return " / ".join(wording.quantity(value, w) for value in values) or w.pgettext("reading", "none")


def _moved(figures: Figures, event: ComponentMoved, w: Words) -> str:
    off = w("{number} off, to engine {engine}" if event.to else "{number} off", number=event.removed, engine=event.to)
    came, number = event.came_from, event.fitted
    fitted = w("{number} on, from engine {engine}" if came else "{number} on", number=number, engine=came)
    told = "; ".join(text for text, number in ((off, event.removed), (fitted, event.fitted)) if number)
    return f"{figures.name(event.component)}: {told}"


def details(figures: Figures, event: Event) -> Iterator[str]:
    """What a buyer or a scrutineer would ask next."""
    w = figures.words
    if isinstance(event, Service):
        if event.renewed:
            by_number: dict[str, list[str]] = {}
            for item, number in event.renewed.items():
                by_number.setdefault(number, []).append(figures.in_text(item))
            parts = "; ".join(f"{wording.listed(names, w)} ({n})" for n, names in by_number.items())
            yield w("renewed: {parts}", parts=parts)
        for part, seal in event.seals.items():
            told = [w("{number} off", number=seal.removed)] if seal.removed else []
            told += [w("{number} on", number=seal.fitted)] if seal.fitted else []
            yield w("seal of the {part}: {what}", part=figures.in_text(part), what=", ".join(told))
        yield from (w("found: {what}", what=text) for text in event.findings)
        yield from (w("remark: {text}", text=text) for text in event.remarks)
        bad = [key.replace("-", " ") for key, word in event.checked.items() if word == "not good"]
        if bad:
            yield w("not good: {what}", what=", ".join(bad))
        if count := len(event.blank):
            yield w("left blank: {count} boxes" if count > 1 else "left blank: 1 box", count=count)
        if count := len(event.voided):
            yield w("struck out: {count} rows" if count > 1 else "struck out: 1 row", count=count)
    if event.note:
        yield event.note


def _signed(event: Event, w: Words) -> str:
    second = getattr(event, "second", None)
    return ", ".join(filter(None, (event.by, w("with {name}", name=second) if second else "")))
