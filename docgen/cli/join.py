"""Join the branches of a log after two people filed apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Literal

import click

from docgen.cli import _options as option
from docgen.cli._filing import asked, filed_line, say_filed
from docgen.cli._saying import give_up, stop
from docgen.cli.frame import Session
from docgen.club.folder import EngineRecord, Folder
from docgen.desk.choosing import engines_named, sound
from docgen.returns.duplicates import Twice, doubled
from docgen.returns.joining import branches, join
from docgen.returns.striking import Claim, claims, strike

WHY = "filed twice, in two copies of the folder"
Chosen = Literal["strike", "keep", ""]


@option.command(
    "Join what was filed apart.",
    "docgen join", 'docgen join 017 --note "filed on two computers"', "docgen join --twice strike", writes=True,
)  # fmt: skip
@option.engines
@option.day("The day of joining.", "--on", "day")
@click.option("--note", help="Why there were two.")
@click.option("--twice", type=click.Choice(["strike", "keep"]), default=None,
              help="What becomes of the second of what was filed twice.  [default: ask]")  # fmt: skip
@option.by
@option.yes
def command(
    session: Session, engines: tuple[str, ...], day: date, note: str | None, twice: Chosen | None, by: str | None,
    yes: bool,
) -> None:  # fmt: skip
    """Join the ends of the logs of ENGINES (or of all) where two people filed apart, as after a git merge.

    Every event stays as it is, and counts. What joins them is an event of its own that names every end. Where both
    entered the same thing, or moved the same component to two engines, it asks which stands.
    """
    folder = _one_place_each(session, session.read(), engines, day, by, yes)
    engines_named(folder, engines)
    apart = [number for number in engines or folder.engines if _is_apart(folder.engines[number])]
    wanted = [p for number in engines or (None,) for p in folder.blocking(number, ())]
    if unread := sorted({p for p in wanted if p.name != "component-twice"}):
        stop(unread)  # of a log that cannot be read nobody knows whether it was filed apart
    if not apart:
        click.echo("Nothing was filed apart.")
    for count, number in enumerate(apart):
        folder = session.read() if count else folder
        sound(folder, number)
        record = folder.engines[number]
        if not _is_apart(record):  # a move that was struck out of the other engine's log
            continue
        click.echo("\n".join(_rows(record)))
        _join(session, folder, record, day, by, note, twice or "", yes)


def _is_apart(record: EngineRecord) -> bool:
    return bool(branches(record.log) or doubled(record.log))


def _join(
    session: Session, folder: Folder, record: EngineRecord, day: date, by: str | None, note: str | None, twice: Chosen,
    yes: bool,
) -> None:  # fmt: skip
    number, pairs = record.engine.engine, doubled(record.log)
    if pairs and yes and not twice:
        give_up("  --yes does not settle what was filed twice: --twice strike takes the second of each out, "
                "--twice keep lets both stand.\nNothing was written.")  # fmt: skip
    gone = [pair for pair in pairs if _strikes(pair, twice)]
    if not yes and not asked("Join them, keeping everything?" if not gone else "Join them so?"):
        give_up("Nothing was written.")
    for pair in gone:
        say_filed(session.root, *strike(session.root, folder, number, pair.second, WHY, day, by))
    if not gone or len(gone) < len(pairs):
        joined = join(session.root, number, day, by, note, always=bool(pairs))
        click.echo(filed_line(session.root, joined) if joined else "Somebody has joined them meanwhile.")


def _strikes(pair: Twice, twice: Chosen) -> bool:
    click.echo(f"The {pair.what} was filed twice:\n  1  {_event(pair.first.entry.file, pair.first.entry.event.by)}"
               f"\n  2  {_event(pair.second.entry.file, pair.second.entry.event.by)}")  # fmt: skip
    return twice == "strike" or (not twice and asked("Is it one and the same, so that 2 is struck out?"))


def _event(file: str, by: str | None) -> str:
    return file + (f", by {by}" if by else "")


def _rows(record: EngineRecord) -> Iterator[str]:
    found = branches(record.log)
    yield f"Engine {record.engine.engine}: " + (f"{len(found)} branches" if found else "joined, with something twice")
    for number, branch in enumerate(found, 1):
        yield f"  branch {number}"
        yield from (f"    {_event(e.file, e.event.by)}" for e in branch)


def _one_place_each(
    session: Session, folder: Folder, engines: Sequence[str], day: date, by: str | None, yes: bool
) -> Folder:  # fmt: skip
    """Ask which move stands of a component that two people moved to two engines; the others are struck out."""
    while True:
        wanted = (each for each in claims(folder) if not engines or {claim.engine for claim in each} & {*engines})
        each = next(wanted, None)
        if each is None:
            return folder
        click.echo(f"{each[0].part} {each[0].name} was moved to {len(each)} engines:")
        for at, claim in enumerate(each, 1):
            click.echo(f"  {at}  {_claim(claim)}")
        if yes:
            give_up("  --yes does not settle that: strike the wrong one out, as in docgen correct ENGINE EVENT "
                    "--strike\nNothing was written.")  # fmt: skip
        stands = _which(len(each))
        for claim in each[:stands] + each[stands + 1 :]:
            say_filed(session.root, *strike(session.root, folder, claim.engine, claim.held, WHY, day, by))
        folder = session.read()


def _claim(claim: Claim) -> str:
    event = claim.held.entry
    return f"to engine {claim.engine} on {event.event.date}: {_event(event.file, event.event.by)}"


def _which(count: int) -> int:
    try:
        return int(click.prompt("Which one stands", type=click.IntRange(1, count))) - 1
    except click.Abort:
        click.echo()
        give_up("Nothing was written.")
