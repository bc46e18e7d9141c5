"""What is due, on which engine, and why."""

from __future__ import annotations

from datetime import date

import click

from docgen.cli.frame import (
    Session,
    chosen_engines,
    complete_engines,
    json_option,
    on_option,
    report,
    say_json,
)
from docgen.plan.due import IN_DATE, DueLine, due_list


@click.command(short_help="What is due, on which engine, and why.")
@click.argument("engines", nargs=-1, shell_complete=complete_engines)
@on_option
@click.option("--all", "everything", is_flag=True, help="Also what is in date.")
@json_option
@click.pass_obj
def command(session: Session, engines: tuple[str, ...], on: date, everything: bool, as_json: bool) -> None:
    """What is overdue, due and coming, for ENGINES or for all.

    \b
    overdue   the interval is used up
    due       it runs out before or during the next meeting, or there is no record of it
    coming    it runs out before or during the meeting after that
    """
    folder = session.read()
    chosen_engines(folder, engines)
    lines = [line for line in due_list(folder, on, engines) if everything or line.state != IN_DATE]
    if as_json:
        say_json([line.to_json() for line in lines])
    else:
        click.echo(_text(lines, on))
        if report(folder.problems):
            raise click.exceptions.Exit(1)


def _text(lines: list[DueLine], on: date) -> str:
    if not lines:
        return f"Nothing is due on {on.isoformat()}."
    rows = [f"On {on.isoformat()}:"]
    state = ""
    for line in lines:
        if line.state != state:
            state = line.state
            rows += ["", state.capitalize()]
        rows.append(f"  {line.engine:<6} {line.code:<3}  {line.title}")
        rows += [f"{'':14}{reason}" for reason in line.reasons]
        if line.job:
            rows.append(f"{'':14}last done: {line.last_done}")
    return "\n".join(rows)
