"""Enter a day's running."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.desk.runs import ran


@option.command("Enter a day's running.", writes=True)
@click.argument("words", nargs=-1, shell_complete=option.engine_names)
@click.option("--from", "table", type=click.Path(path_type=Path), help="A table in CSV instead of words.")
@option.day("The day it ran.")
@click.option("--meeting", default="", help="Where.  [default: the season's round of that day]")
@click.option("--peak-speed", default="", help="With its unit, as in 104 km/h.")
@click.option("--peak-temperature", default="", help="With its unit, as in 182 degC.")
@click.option("--air", default="", help="The air, as in: 14 degC, dry.")
@click.option("--needles", default="", help="Needle settings, as in: L 1.50, H 0.25.")
@click.option("--fuel", default="", help="Fuel to oil, as in 25:1.")
@click.option("--batch", default="", help="The batch of the fuel.")
@click.option("--note", default="", help="Anything else.")
@option.by
@click.option("--again", is_flag=True, help="Enter the same time again: it ran twice as long that day.")
@option.accept
@option.yes()
def command(
    session: Session, /, words: tuple[str, ...], table: Path | None, on: date, again: bool, **facts: str | None
) -> None:
    """Enter how long engines ran: an engine or several, then the time.

    \b
    docgen ran 017 3 x 12              three sessions of 12 minutes
    docgen ran 017 021 36 023 12+10    two engines 36 minutes each, a third 22
    docgen ran --from sunday.csv       a table with the columns engine, date, ran, and any of
                                       meeting, peak_speed, peak_temperature, air, needles,
                                       fuel, batch, note, by

    It shows what it understood before anything is written.
    """
    if words and table is not None:
        raise click.UsageError("give words or a table, not both: docgen ran 017 3 x 12, or docgen ran --from TABLE")
    if not words and table is None:
        raise click.UsageError("say which engines ran and how long, as in: docgen ran 017 3 x 12; or --from a table")
    folder = session.read(None if table is not None else " ".join(words).split())
    ran(session, folder, " ".join(words) if table is None else table, on, again=again, **facts)
