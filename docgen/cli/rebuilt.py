"""Enter that an engine was rebuilt."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.notes import rebuilt


@option.command(
    "Enter that an engine was rebuilt, so that its card may say so.",
    'docgen rebuilt 017 --by "Ada Fenn" --approved-by "Samir Thornbury"', writes=True,
)
@click.argument("number", shell_complete=option.engine_names)
@click.option("--by", required=True, help="Who rebuilt it.")
@click.option("--approved-by", required=True, help="Who approved it to the limits of a new one.")
@click.option("--sheet", "sheets", multiple=True, help="The number of a sheet that shows it; may be repeated.")
@click.option("--date", "day", type=option.Day(), help="The day it was approved.  [default: the day of filing]")
@option.filed_on
def command(session: Session, number: str, day: date | None, on: date, **given: Any) -> None:
    """Enter that engine NUMBER was rebuilt, in the one sense in which its card may count hours since then."""
    rebuilt(session, session.read(), number, day or on, on, **given)
