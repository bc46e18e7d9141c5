"""Join the branches of a log after two people filed apart."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli._filing import asked, by_option, filed_line, give_up, refuse, yes_option
from docgen.cli.frame import Day, Session, chosen_engines, complete_engines, examples, stop, today
from docgen.club.folder import EngineRecord
from docgen.club.store import StoreError
from docgen.returns.joining import branches, join


@click.command(
    short_help="Join what was filed apart.",
    epilog=examples("docgen join", 'docgen join 017 --note "filed on two computers"'),
)
@click.argument("engines", nargs=-1, shell_complete=complete_engines)
@click.option("--on", "day", type=Day(), default=today, show_default="today", help="The day of joining.")
@click.option("--note", help="Why there were two.")
@by_option
@yes_option
@click.pass_obj
def command(
    session: Session, engines: tuple[str, ...], day: date, note: str | None, by: str | None, yes: bool
) -> None:  # fmt: skip
    """Join the ends of the logs of ENGINES (or of all) where two people filed apart, as after a git merge.

    Every event stays as it is, and counts. What joins them is an event of its own that names every end.
    """
    folder = session.read()
    records = chosen_engines(folder, engines) or list(folder.engines.values())
    apart = [record for record in records if branches(record.log)]
    if not apart:
        click.echo("Nothing was filed apart.")
    for record in apart:
        number = record.engine.engine
        if blocking := folder.blocking(number, ()):
            stop(blocking)
        click.echo("\n".join(_rows(record)))
        if not yes and not asked("Join them, keeping everything?"):
            give_up("Nothing was written.")
        try:
            filed = join(session.root, number, day, by, note)
        except StoreError as error:
            refuse(error)
        click.echo(filed_line(session.root, filed) if filed else "Somebody has joined them meanwhile.")


def _rows(record: EngineRecord) -> Iterator[str]:
    found = branches(record.log)
    yield f"Engine {record.engine.engine}: {len(found)} branches"
    for number, branch in enumerate(found, 1):
        yield f"  branch {number}"
        yield from (f"    {e.file}" + (f", by {e.event.by}" if e.event.by else "") for e in branch)
