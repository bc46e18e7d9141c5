"""Move a numbered component."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.moves import finish_moves, move


@option.command("Move a numbered component.", writes=True)
@click.argument("number", required=False)
@click.argument("where", required=False, shell_complete=option.engine_names)
@click.option("--swap", is_flag=True, help="What it takes the place of goes where it came from, not to the shelf.")
@click.option("--part", help="What it is, as in carburettor; needed for one from the shelf.")
@click.option("--hours", default="", help="What one that is new to the record had run before, as in 3.5 h; new: 0 h.")
@option.day("The day it was moved.")
@click.option("--note", help="Anything else.")
@option.by
@click.option("--finish", "finishing", is_flag=True, help="Write what is missing of moves that were cut off.")
@option.accept
@option.yes()
def command(
    session: Session, number: str | None, where: str | None, on: date, finishing: bool, **given: Any
) -> None:
    """Move component NUMBER to engine WHERE, or to the shelf.

    \b
    docgen move LC-2231 042                  what is on 042 goes to the shelf
    docgen move LC-2231 042 --swap           what is on 042 goes where LC-2231 came from
    docgen move LC-2231 shelf                it comes off
    docgen move LC-2300 042 --part carburettor --hours "0 h"

    A move between two engines is written into both logs. Where it is, and its hours: docgen components
    """
    folder = session.read()
    if finishing:
        if number or where:
            raise click.UsageError("--finish stands alone")
        if not finish_moves(session, folder):
            click.echo("No move was cut off.")
    elif number is None or where is None:
        raise click.UsageError("say which component goes where, as in: docgen move LC-2231 042")
    else:
        move(session, folder, number, where, on, **given)
