"""Put an event right that was filed wrongly."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.corrections import correct, events


@option.command("Put an event right that was filed wrongly.", writes=True)
@option.engine
@click.argument("event", required=False)
@click.argument("changes", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--strike", "strike_out", is_flag=True, help="The event never was.")
@click.option("--why", default="", help="What was wrong.")
@option.day("The day of the correction.")
@option.by
@option.yes()
def command(
    session: Session, engine: str, event: str | None, changes: tuple[str, ...], on: date, **given: Any
) -> None:
    """Say what holds instead of EVENT in the log of ENGINE, or list the events when none is named.

    \b
    docgen correct 017                                    lists the events
    docgen correct 017 4cb500fc hours="12 min" --why "hours typed for minutes"
    docgen correct 017 6cd59a38 readings.plug-gap="0.60 mm" --why "misread"
    docgen correct 017 4cb500fc --strike --why "it was engine 021"

    A new event names the wrong one. The wrong one stays where it is, and the record shows both.
    """
    folder = session.read()
    if event is None:
        click.echo("\n".join(events(folder, engine)) or "There is no event yet.")
    else:
        correct(session, folder, engine, event, changes, on, **given)
