"""The index of what was printed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import shown


@option.command("A page with links to all that was printed, and what still holds.", "docgen index")
@option.on
@option.language
@option.out("Where the PDFs lie.")
def command(session: Session, on: date, out: Path) -> None:
    """Write index.html beside the printed sheets: each by engine and by job, due, current or superseded.

    It needs no network and opens in any browser; run it again after printing or filing.
    """
    folder = session.read()
    if not out.is_dir():
        if out != session.root / "out":
            raise click.UsageError(f"there is no folder {shown(out)}: name the one that the PDFs were printed into")
        click.echo("Nothing has been printed yet: docgen print --due")
        return
    from docgen.desk.index import write_index

    found = write_index(folder, out, on)
    for path, why in found.others:
        click.echo(f"{shown(path)} is left out: {why}", err=True)
    held = f", {found.superseded} of them superseded" if found.superseded else ""
    click.echo(f"{counted(len(found.sheets), 'sheet')}{held}: {shown(out / 'index.html')}")
