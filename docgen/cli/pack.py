"""Pack procedures into one file for another club."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.club.files import beginning
from docgen.club.folder import Folder
from docgen.club.problem import counted
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.store import StoreError, replace, told
from docgen.club.teaching import Page
from docgen.desk.choosing import engines_named, jobs_named, known
from docgen.share.container import START, Refused
from docgen.share.origins import keep
from docgen.share.pack import Made, pack, shared_files
from docgen.share.parcel import open_parcel


@option.command(
    "Pack jobs into one file for another club.",
    "docgen pack CLU -o clutch.parcel", "docgen pack CLU STA --model alder-100r -o both.parcel",
)  # fmt: skip
@click.argument("jobs", nargs=-1, required=True, shell_complete=option.job_names)
@click.option("-o", "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The parcel's file.")
@click.option("--model", "models", multiple=True, help="An engine type to go with them.  [default: all that they fit]")
@click.option(
    "--engine", "engines", multiple=True, shell_complete=option.engine_names,
    help="An engine whose whole record goes with them. None goes unless named.",
)  # fmt: skip
def command(
    session: Session, jobs: tuple[str, ...], out: Path, models: tuple[str, ...], engines: tuple[str, ...]
) -> None:
    """Pack JOBS with all that they need into one parcel, for another club to take in with: docgen receive

    What they need goes with them: the pages that teach beside them, the sequences that they use, the jobs that they
    call for, the engine types that they fit, and what these name of tools, gauges and materials. Prices, the shelf,
    calibration dates and comments stay at home. The same content gives the same file, byte for byte.
    """
    folder = session.read()
    named = [read.value.procedure for read in jobs_named(folder, jobs)]
    numbers = [record.engine.engine for record in engines_named(folder, engines)]
    types = [known(name, folder.models, "engine type") for name in models]
    if out.exists() and not _is_parcel(out):
        raise click.UsageError(f"{out} is there already, and is no parcel: give another name")
    try:
        made = pack(folder, named, types or None, numbers)
        open_parcel(out.name, made.data)
        _write(session.root, folder, out, made)
    except (Refused, StoreError) as error:
        click.echo(f"{error}\nNothing was packed.")
        raise click.exceptions.Exit(1) from None
    for line in _lines(folder, made):
        click.echo(line)
    click.echo(f"{out}: {counted(len(made.data), 'byte')}")


def _is_parcel(path: Path) -> bool:
    return beginning(path, len(START), named=True) == START


def _write(root: Path, folder: Folder, out: Path, made: Made) -> None:
    try:
        keep(root, {**folder.origins.files, **made.origins}, made.texts)
        replace(out, made.data)
    except OSError as error:
        raise told(error, str(out)) from error


def _lines(folder: Folder, made: Made) -> Iterator[str]:
    """What the parcel holds, and why."""
    reads = shared_files(folder)
    for path in sorted(made.texts, key=lambda one: (_rank(reads[one].value), one)):
        value, why = reads[path].value, made.because[path]
        what = ("job", "page", "sequence", "engine type")[_rank(value)]
        revision = f" revision {value.revision}" if isinstance(value, (Procedure, Sequence)) else ""
        needed = f"  (needed by {PurePosixPath(why).stem})" if why and not isinstance(value, Page) else ""
        yield f"{what:12}{PurePosixPath(path).stem}{revision}{needed}"
    for number in sorted({path.split("/")[1] for path in made.records}):
        count = sum(path.startswith(f"engines/{number}/") for path in made.records)
        yield f"{'record':12}engine {number}, {counted(count, 'file')}"


def _rank(value: object) -> int:
    return next(rank for rank, kind in enumerate((Procedure, Page, Sequence, Model)) if isinstance(value, kind))
