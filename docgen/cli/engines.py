"""Engines and numbered components as the record has them, as text: what a card says, and where each is."""

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, say_json
from docgen.cli.frame import Session
from docgen.club.folder import Faulty
from docgen.club.problem import counted
from docgen.desk.choosing import engines_named, known
from docgen.job import wording
from docgen.job.components import Component
from docgen.job.components import components as located
from docgen.job.readings import in_short
from docgen.plan.history import Line
from docgen.plan.lives import PartLife
from docgen.plan.standing import Measured, Standing, standing
from docgen.trade.limits import Verdict


@option.command("Where the numbered components are.", "docgen components", "docgen components LC-2214")
@click.argument("number", required=False)
@option.on
@option.json
def components(session: Session, number: str | None, on: date, as_json: bool) -> bool:
    """Every numbered component with its place and hours, or where component NUMBER has been.

    Hours are those that the engines ran while it was on them. To move one: docgen move
    """
    folder = session.read()
    found = sorted(located(folder, on).values(), key=lambda one: (one.part, one.number))
    if number is not None:
        known(number, {one.number for one in found}, "component", listed="docgen components lists them")
        found = [one for one in found if one.number == number]
    if as_json:
        say_json([_component(one) for one in found])
        return False
    rows = [_row(one) for one in found] if number is None else [row for one in found for row in _story(one)]
    click.echo("\n".join(rows) or "No component bears a number.")
    return bool(report(p for p in folder.problems if p.path.startswith("engines/")))


def _row(one: Component) -> str:
    last = one.stints[-1]
    place = f"engine {last.engine} since {last.since}" if last.until is None else f"shelf since {last.until}"
    return f"{one.part:<16} {one.number:<12} {place:<30} {_hours(one)}"


def _hours(one: Component) -> str:
    life = one.life
    if life.since_new is None:
        return f"{wording.hours(life.recorded)} in this record; not known before"
    return f"{wording.hours(life.since_new)} since new"


def _story(one: Component) -> Iterator[str]:
    yield f"{one.part} {one.number}: {_hours(one)}"
    for stint in one.stints:
        until = f"to {stint.until}" if stint.until else "to now"
        yield f"  engine {stint.engine:<6} {stint.since} {until:<13} {wording.hours(stint.hours)}"


def _component(one: Component) -> dict[str, object]:
    life = one.life
    new = life.since_new
    return {
        "part": one.part,
        "number": one.number,
        "engine": life.engine,
        "hours_since_new": _number(new),
        "hours_recorded": _number(life.recorded),
        "stints": [
            {"engine": s.engine, "since": s.since, "until": s.until, "hours": _number(s.hours)}
            for s in one.stints
        ],
    }


@option.command("One engine's record.", "docgen engine 017")
@click.argument("number", shell_complete=option.engine_names)
@option.on
@option.json
def engine(session: Session, number: str, on: date, as_json: bool) -> bool:
    """The record of engine NUMBER: identity, hours, deviations, readings, findings, and every event.

    The same on paper: docgen card
    """
    folder = session.read([number])
    (record,) = engines_named(folder, [number])
    if record.engine.model not in folder.models:
        raise Faulty(folder.blocking(number, ()))
    one = standing(folder, record, on)
    if as_json:
        say_json(_plain(one))
    else:
        click.echo("\n".join(_rows(one)))
    return bool(report(p for p in folder.blocking(number, ()) if not as_json))


def _rows(one: Standing) -> Iterator[str]:
    engine, state, figures = one.record.engine, one.state, one.figures
    since = "" if state.hours_known else f" since {engine.received.isoformat()}; not known before"
    yield f"Engine {engine.engine}: {figures.model.title}, serial {engine.serial or '______'}"
    yield f"Keeper {state.keeper}; in the record since {engine.received.isoformat()}"
    yield f"Hours on {one.on.isoformat()}: {wording.hours(state.hours)}{since}"
    yield f"Hours since rebuilt: {_rebuilt(one)}"
    yield f"Record up to {one.record.log.head or 'nothing yet'}"
    for title, rows in (
        ("Deviations", [f"{d.date.isoformat()}  {d.what}" for d in state.deviations]),
        ("Open findings", [f"{f.day.isoformat()}  {f.text}" for f in state.findings]),
        ("Parts with a limited life", [_life(life) for life in one.lives]),
        ("Seals", [f"{figures.name(part)}: {seal}" for part, seal in state.seals.items()]),
        ("Components", list(_components(one))),
        ("Latest readings", [row for each in one.measured for row in _reading(each)]),
        ("Settings", [f"{figures.name(n)}: {text} ({day.isoformat()})" for n, (day, text) in state.settings.items()]),
        ("Kept by", [f"{day.isoformat()}  {keeper}" for day, keeper in one.owners]),
        ("Running", [f"{s.year}  {wording.hours(s.hours)} on {counted(s.days, 'day')}" for s in one.seasons]),
        ("Log", [row for line in one.lines for row in _event(line)]),
    ):
        yield ""
        yield title
        yield from (f"  {row}" for row in rows or ["none"])


def _rebuilt(one: Standing) -> str:
    if one.rebuilt is None or one.since_rebuilt is None:
        return "no rebuild on record"
    moment, event = one.rebuilt
    return f"{wording.hours(one.since_rebuilt)}, since {moment.day.isoformat()}, approved by {event.approved_by}"


def _life(life: PartLife) -> str:
    used = "age not known" if life.used is None else wording.hours(life.used)
    past = "; OVER" if life.left is not None and life.left < 0 else ""
    since = f", since {life.fitted.isoformat()}" if life.fitted else ""
    return f"{life.name}: {used} of {wording.hours(life.allowed)}{since}{past}"


def _components(one: Standing) -> Iterator[str]:
    for each in one.components:
        here, new = each.stints[-1], each.life.since_new
        since = f"{wording.hours(new)} since new" if new is not None else "hours since new not known"
        fitted = f"on since {here.since.isoformat()}, {wording.hours(here.hours)} here"
        yield f"{one.figures.name(each.part)}: {each.number}, {fitted}, {since}"


def _reading(each: Measured) -> Iterator[str]:
    last = each.readings[-1]
    values = " / ".join(wording.quantity(v) for v in last.values)
    outside = (
        f", OUTSIDE {wording.band(each.limit.allow)}" if each.verdict is Verdict.REJECT and each.limit.allow else ""
    )
    yield f"{each.name}: {values} ({last.at.day.isoformat()}, {wording.hours(last.at.hours)}){outside}"
    if each.forecast is not None and each.limit.allow and len(each.readings) > 1:
        yield f"  {in_short(each.forecast, wording.unit(each.limit.allow.unit), wording.IN_ENGLISH)}"


def _event(line: Line) -> Iterator[str]:
    by = f", {line.by}" if line.by else ""
    yield f"{line.day.isoformat()}  {line.what}{by}" + (f", sheet {line.sheet}" if line.sheet else "")
    yield from (f"            {text}" for text in line.details)
    if (put := line.corrected) is not None:
        who = f", {put.by}" if put.by else ""
        yield f"            CORRECTED {put.day.isoformat()}{who}: {put.why}"
        yield f"            holds now: {put.holds or 'nothing, this entry does not count'}"
        yield from (f"            {text}" for text in put.details)


def _plain(one: Standing) -> dict[str, object]:
    state = one.state
    return {
        "engine": one.record.engine.model_dump(mode="json", exclude_none=True, exclude={"hours"}),
        "hours": _number(state.hours),
        "hours_known": state.hours_known,
        "hours_since_rebuilt": _number(one.since_rebuilt),
        "keeper": state.keeper,
        "seals": state.seals,
        "components": state.components,
        "lives": [
            {"item": life.item, "used": _number(life.used), "allowed": _number(life.allowed), "fitted": life.fitted}
            for life in one.lives
        ],
        "deviations": [{"date": d.date, "item": d.item, "what": d.what} for d in state.deviations],
        "findings": [{"date": f.day, "text": f.text, "calls": f.calls} for f in state.findings],
        "readings": {
            limit: [
                {"date": r.at.day, "hours": _number(r.at.hours), "values": [str(v) for v in r.values]} for r in readings
            ]
            for limit, readings in state.readings.items()
        },
        "events": [
            {"date": line.day, "what": line.what, "sheet": line.sheet, "digest": line.digest,
             "corrected": line.corrected is not None}
            for line in one.lines
        ],
        "log_head": one.record.log.head,
    }  # fmt: skip


def _number(hours: Fraction | None) -> float | None:
    return None if hours is None else round(float(hours), 3)
