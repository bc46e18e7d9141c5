"""One engine's record, as text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli.frame import Session, chosen_engines, complete_engines, json_option, on_option, report, say_json
from docgen.club.folder import EngineRecord, Folder
from docgen.club.schema.event import Deviation, Event, Finding, Run, Service
from docgen.job import wording
from docgen.job.figures import Figures
from docgen.job.state import EngineState, state_of


@click.command(short_help="One engine's record.")
@click.argument("number", shell_complete=complete_engines)
@on_option
@json_option
@click.pass_obj
def command(session: Session, number: str, on: date, as_json: bool) -> None:
    """The record of engine NUMBER: identity, hours, deviations, readings, findings, and every event."""
    folder = session.read()
    (record,) = chosen_engines(folder, [number])
    if record.engine.model not in folder.models:
        report(folder.blocking(number))
        raise click.exceptions.Exit(1)
    state = state_of(record, on)
    if as_json:
        say_json(_plain(record, state))
    else:
        click.echo("\n".join(_rows(folder, record, state, on)))
    if report(p for p in folder.blocking(number) if not as_json):
        raise click.exceptions.Exit(1)


def _rows(folder: Folder, record: EngineRecord, state: EngineState, on: date) -> Iterator[str]:
    assert folder.club is not None
    figures = Figures(folder.club.value, folder.models[record.engine.model].value, state)
    engine = record.engine
    since = "" if state.hours_known else f" since {engine.received.isoformat()}; not known before"
    yield f"Engine {engine.engine}: {figures.model.title}, serial {engine.serial or '______'}"
    yield f"Keeper {state.keeper}; in the record since {engine.received.isoformat()}"
    yield f"Hours on {on.isoformat()}: {wording.hours(state.hours)}{since}"
    for title, rows in (
        ("Deviations", [f"{d.date.isoformat()}  {d.what}" for d in state.deviations]),
        ("Seals", [f"{figures.name(part)}: {seal}" for part, seal in state.seals.items()]),
        ("Components", [f"{figures.name(part)}: {number}" for part, number in state.components.items()]),
        ("Open findings", [f"{f.day.isoformat()}  {f.text}" for f in state.findings]),
        ("Latest readings", list(_readings(figures, state))),
        ("Settings", [f"{figures.name(n)}: {text} ({day.isoformat()})" for n, (day, text) in state.settings.items()]),
        ("Log", [_event(folder, e) for e in record.log.events if e.date <= on]),
    ):
        yield ""
        yield title
        yield from (f"  {row}" for row in rows or ["none"])


def _readings(figures: Figures, state: EngineState) -> Iterator[str]:
    for limit, readings in sorted(state.readings.items()):
        last = readings[-1]
        values = " / ".join(wording.quantity(v) for v in last.values)
        yield f"{figures.name(limit)}: {values} ({last.at.day.isoformat()}, {wording.hours(last.at.hours)})"


def _event(folder: Folder, event: Event) -> str:
    day = event.date.isoformat()
    if isinstance(event, Run):
        return f"{day}  ran {wording.quantity(event.hours)}" + (f" at {event.meeting}" if event.meeting else "")
    if isinstance(event, Service):
        read = folder.procedures.get(event.procedure)
        title = read.value.title if read else event.procedure
        return f"{day}  {title}, revision {event.revision}, signed {event.by or '______'}"
    if isinstance(event, Finding):
        return f"{day}  found: {event.finding}"
    if isinstance(event, Deviation):
        return f"{day}  deviation: {event.what}"
    return f'{day}  {getattr(event, "event", "")}' + (f": {event.note}" if event.note else "")


def _plain(record: EngineRecord, state: EngineState) -> dict[str, object]:
    return {
        "engine": record.engine.model_dump(mode="json", exclude_none=True, exclude={"hours"}),
        "hours": round(float(state.hours), 3),
        "hours_known": state.hours_known,
        "keeper": state.keeper,
        "seals": state.seals,
        "components": state.components,
        "deviations": [{"date": d.date, "item": d.item, "what": d.what} for d in state.deviations],
        "findings": [{"date": f.day, "text": f.text, "calls": f.calls} for f in state.findings],
        "readings": {
            limit: [
                {"date": r.at.day, "hours": round(float(r.at.hours), 3), "values": [str(v) for v in r.values]}
                for r in rs
            ]
            for limit, rs in state.readings.items()
        },
        "log_head": record.log.head,
    }
