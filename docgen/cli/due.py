"""What is due, on which engine, and why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli.frame import (
    Session,
    chosen_engines,
    complete_engines,
    counted,
    examples,
    json_option,
    on_option,
    report,
    say_json,
)
from docgen.plan.due import IN_DATE, DueLine, Quiet, due_list, quiet_engines


@click.command(
    short_help="What is due, on which engine, and why.",
    epilog=examples("docgen due 017", "docgen due --on 2027-04-01 --all"),
)
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
    every = due_list(folder, on, engines)
    lines = [line for line in every if everything or line.state != IN_DATE]
    if as_json:
        say_json([line.to_json() for line in lines])
    else:
        rows = [*_rows(lines, on, bool(folder.engines)), *_quiet(quiet_engines(folder, on, engines))]
        rows += _usual(every) if engines else []
        click.echo("\n".join(rows))
        if report(folder.problems):
            raise click.exceptions.Exit(1)


def _rows(lines: list[DueLine], on: date, engines: bool) -> Iterator[str]:
    if not engines:
        yield "There are no engines yet: docgen new engine NUMBER begins one."
        return
    yield f"On {on.isoformat()}:" if lines else f"Nothing is due on {on.isoformat()}."
    state = ""
    for line in lines:
        if line.state != state:
            state = line.state
            yield from ("", state.capitalize())
        yield f"  {line.engine:<6} {line.code:<3}  {line.title}"
        yield from (f"{'':14}{reason}" for reason in line.reasons)
        if line.before and line.state != IN_DATE:
            yield f"{'':14}before {line.before}"
        if line.job:
            yield f"{'':14}last done: {line.last_done}"


def _quiet(engines: list[Quiet]) -> Iterator[str]:
    if engines:
        yield from ("", "No running entered for two months or more")
    for one in engines:
        since = f"none {'entered' if one.ever else 'ever entered; in the record'} since {one.since.isoformat()}"
        held = f", though {counted(one.rounds, 'round')} of the season went by" if one.rounds else ""
        yield f"  {one.engine:<6} {since}{held}"


def _usual(lines: list[DueLine]) -> Iterator[str]:
    usual = {line.engine: (line.usual, line.own) for line in lines}
    yield ""
    for engine, (hours, own) in sorted(usual.items()):
        whose = "its own last meetings" if own else "the club's figure: it has too few meetings of its own"
        yield f"Engine {engine} runs {hours:.1f} h at a meeting ({whose})."
