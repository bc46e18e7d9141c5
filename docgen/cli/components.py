"""Where the numbered components are, and where each has been."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, say_json
from docgen.cli.frame import Session
from docgen.desk.choosing import known
from docgen.job import wording
from docgen.job.components import Component, components


@option.command("Where the numbered components are.", "docgen components", "docgen components LC-2214")
@click.argument("number", required=False)
@option.on
@option.json
def command(session: Session, number: str | None, on: date, as_json: bool) -> bool:
    """Every numbered component with its place and hours, or where component NUMBER has been.

    Hours are those that the engines ran while it was on them. To move one: docgen move
    """
    folder = session.read()
    found = sorted(components(folder, on).values(), key=lambda one: (one.part, one.number))
    if number is not None:
        known(number, {one.number for one in found}, "component", listed="docgen components lists them")
        found = [one for one in found if one.number == number]
    if as_json:
        say_json([_plain(one) for one in found])
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


def _plain(one: Component) -> dict[str, object]:
    life = one.life
    new = life.since_new
    return {
        "part": one.part,
        "number": one.number,
        "engine": life.engine,
        "hours_since_new": None if new is None else round(float(new), 3),
        "hours_recorded": round(float(life.recorded), 3),
        "stints": [
            {"engine": s.engine, "since": s.since, "until": s.until, "hours": round(float(s.hours), 3)}
            for s in one.stints
        ],
    }
