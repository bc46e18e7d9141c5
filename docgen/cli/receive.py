"""Take in a parcel from another club."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report
from docgen.cli.frame import Session
from docgen.club.files import beginning
from docgen.club.problem import counted
from docgen.club.store import StoreError
from docgen.desk.before import read_before
from docgen.share.container import MAX_BYTES, Refused
from docgen.share.intake import Intake, beside_file, intake
from docgen.share.parcel import FaultyParcel, Parcel, open_parcel
from docgen.share.summary import MARKS, told


@option.command(
    "Take in a parcel from another club.",
    "docgen receive clutch.parcel", "docgen receive clutch.parcel --theirs clutch-service",
)  # fmt: skip
@click.argument("parcel", type=click.Path(path_type=Path))
@option.yes("Take it in without asking. What both changed stays yours all the same.")
@click.option("--mine", multiple=True, metavar="NAME", help="Settled: your own job, sequence or engine type stays.")
@click.option("--theirs", multiple=True, metavar="NAME", help="Settled: theirs takes the place of yours.")
@option.on
def command(session: Session, parcel: Path, mine: tuple[str, ...], theirs: tuple[str, ...], on: date) -> None:
    """Take in PARCEL, a file that another club made with: docgen pack

    First it is shown what would change: new jobs, newer revisions, and in each the steps, torques and limits that are
    not what they were; and what you had changed yourself. Then the whole club is proofed as it would be, on your own
    engine types. Only then it asks, and writes all of it or nothing. What you changed is never written over: where
    both changed the same, yours stays, and theirs is laid beside it.
    """
    folder = session.read()
    try:
        opened = open_parcel(parcel.name, _read(parcel))
        _check_names(opened, mine, theirs)
        with read_before(session.root) as known:
            found = intake(folder, opened, on, mine, theirs, known)
    except FaultyParcel as faulty:
        report(faulty.problems)
        _end(faulty)
    except Refused as refused:
        _end(refused)
    for line in told(opened, found, [read.value for read in folder.models.values()], folder.club.value.language):
        click.secho(line, bold=line.lstrip().startswith(MARKS))
    click.echo()
    if found.faults:
        report(found.faults)
        click.echo("Refused: with the parcel taken in, proofing finds what stands above (its lines as they would be).")
        click.echo("Nothing was written.")
        raise click.exceptions.Exit(1)
    if not found.files:
        click.echo("Nothing of it is new to you. Nothing was written.")
        raise click.exceptions.Exit(1 if found.open else 0)
    question = _question(found)
    if question and not session.quiet and not session.asked(question):
        click.echo("Nothing was written.")
        raise click.exceptions.Exit(1)
    try:
        unsure = found.write(session.root)
    except StoreError as error:
        _end(error)
    for line in _written(found):
        click.echo(line)
    if unsure:
        click.echo(f"It is taken in, with a warning: {unsure}.", err=True)
    if found.open:
        raise click.exceptions.Exit(1)


def _question(found: Intake) -> str:
    """What must be asked before it is written; nothing where only the other club's versions are noted."""
    if found.taken or found.shelf or found.records or found.open:
        return "Take this in?"
    return "Note that this is settled?" if found.settled else ""


def _read(path: Path) -> bytes:
    try:
        return beginning(path, MAX_BYTES + 1, named=True)
    except OSError as error:
        message = f"{path} cannot be opened: {error.strerror}"
        raise Refused("unreadable-file", message, "give the parcel's file") from None


def _check_names(parcel: Parcel, mine: Sequence[str], theirs: Sequence[str]) -> None:
    names = sorted({Path(path).stem for path in parcel.shared})
    if unknown := next((name for name in (*mine, *theirs) if name not in names), None):
        raise click.UsageError(f'there is no "{unknown}" in this parcel; in it: {", ".join(names)}')
    if both := next((name for name in mine if name in theirs), None):
        raise click.UsageError(f'"{both}" cannot be both --mine and --theirs')


def _written(found: Intake) -> Iterator[str]:
    if found.settled:
        yield f"Noted as settled: {', '.join(offer.called for offer in found.settled)}"
    elif not _question(found):
        yield "You have all of it. What the other club has was noted."
    if found.taken:
        yield f"Taken in: {', '.join(offer.called for offer in found.taken)}"
    if found.shelf:
        yield f"Added to club.yaml: {', '.join(name for entries in found.shelf.values() for name in entries)}"
    if numbers := sorted({path.split("/")[1] for path in found.records}):
        yield f"Records taken in: {', '.join(numbers)}"
    for offer in found.open:
        if offer.ours is not None:
            yield f"Left side by side: {offer.path} (yours) and {beside_file(offer)} (theirs)"
    if found.open:
        yield f"{counted(len(found.open), 'file')} to settle, see above."


def _end(error: Refused | StoreError) -> None:
    click.echo(f"{error}\nNothing was written.")
    raise click.exceptions.Exit(1)
