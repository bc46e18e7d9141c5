"""What happened to engines and their components, written into the record away from a sheet, and put right in it."""

from datetime import date
from pathlib import Path
from typing import Any

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session


@option.command("Put an event right that was filed wrongly.", writes=True)
@option.engine
@click.argument("event", required=False)
@click.argument("changes", nargs=-1, metavar="[KEY=VALUE]...")
@click.option("--strike", "strike_out", is_flag=True, help="The event never was.")
@click.option("--why", default="", help="What was wrong.")
@option.day("The day of the correction.")
@option.by
@option.yes()
def correct(
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
    from docgen.desk.corrections import correct_event, events

    folder = session.read()
    if event is None:
        click.echo("\n".join(events(folder, engine)) or "There is no event yet.")
    else:
        correct_event(session, folder, engine, event, changes, on, **given)


@option.command(
    "Join what was filed apart.",
    "docgen join", 'docgen join 017 --note "filed on two computers"', "docgen join --twice strike", writes=True,
)  # fmt: skip
@option.engines
@option.day("The day of joining.")
@click.option("--note", help="Why there were two.")
@click.option("--twice", type=click.Choice(["strike", "keep"]), default=None,
              help="What becomes of the second of what was filed twice.  [default: ask]")  # fmt: skip
@option.by
@option.yes()
def join(session: Session, **given: Any) -> None:
    """Join the ends of the logs of ENGINES (or of all) where two people filed apart, as after a git merge.

    Every event stays as it is, and counts. What joins them is an event of its own that names every end. Where both
    entered the same thing, or moved the same component to two engines, it asks which stands.
    """
    from docgen.desk.corrections import join_logs

    join_logs(session, session.read, **given)


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
def move(
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
    from docgen.desk.moves import finish_moves, move_component

    folder = session.read()
    if finishing:
        if number or where:
            raise click.UsageError("--finish stands alone")
        if not finish_moves(session, folder):
            click.echo("No move was cut off.")
    elif number is None or where is None:
        raise click.UsageError("say which component goes where, as in: docgen move LC-2231 042")
    else:
        move_component(session, folder, number, where, on, **given)


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
def ran(
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
    from docgen.desk.runs import enter_running

    folder = session.read(None if table is not None else " ".join(words).split())
    enter_running(session, folder, " ".join(words) if table is None else table, on, again=again, **facts)


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
def rebuilt(session: Session, number: str, day: date | None, on: date, **given: Any) -> None:
    """Enter that engine NUMBER was rebuilt, in the one sense in which its card may count hours since then."""
    from docgen.desk.notes import note_rebuilt

    note_rebuilt(session, session.read(), number, day or on, on, **given)
