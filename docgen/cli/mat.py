"""The layout mat of a job, and the same for a parts box."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import warn
from docgen.cli.frame import Session


@option.command(
    "A numbered place for each piece that comes off.",
    "docgen mat 017 --job CAR", "docgen mat 017 --job CAR --paper A4", "docgen mat 017 --job CAR --box 4x6",
)  # fmt: skip
@option.engine
@option.jobs
@click.option("--paper", help="A4 or A3.  [default: A4 where that holds all places at full size, else A3]")
@click.option("--box", "grid", help="For a parts box instead: compartments across by down, as in 4x6.")
@click.option("--compartment", help="Size of a compartment in mm, as in 45x35.  [default: they fill the paper]")
@option.on
@option.language
@option.out()
def command(
    session: Session, engine: str, jobs: tuple[str, ...], paper: str | None, grid: str | None, compartment: str | None,
    on: date, out: Path,
) -> None:  # fmt: skip
    """Print the mat for the jobs of ENGINE (all that is due, or those named with --job).

    A place bears the number of the leaf's row. Read backwards, the mat is the order in which the pieces go back. It is
    one sheet: where not all places fit, outlines are drawn smaller, then the largest pieces lie beside it.
    """
    from docgen.cli._pages import print_pages
    from docgen.desk.mat import boxed, flat, mats
    from docgen.desk.wanted import wanted_jobs

    folder = session.read()
    club = folder.club.value
    make = boxed(club, paper, grid, compartment) if grid or compartment else flat(club, paper)
    wanted = wanted_jobs(folder, [engine], jobs, on, say=warn)
    if not wanted:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name a job with --job.")
        return
    wishes, bare = mats(folder, wanted, on, out, make, box=bool(grid))
    for code in bare:
        click.echo(f"Nothing comes off in {code}: it needs no mat.")
    print_pages(folder.root, wishes)
