"""The index of what was printed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import counted, stop
from docgen.cli.frame import Session
from docgen.club.store import replace


@option.command("A page with links to all that was printed, and what still holds.", "docgen index")
@option.on
@option.language
@option.out("Where the PDFs lie.")
def command(session: Session, on: date, out: Path | None) -> None:
    """Write index.html beside the printed sheets: each by engine and by job, due, current or superseded.

    It needs no network and opens in any browser; run it again after printing or filing.
    """
    from docgen.cli._listed import listed
    from docgen.cli._system import shown
    from docgen.sheets.indexpage import SUPERSEDED, index_page

    folder = session.read()
    if stopped := folder.blocking(jobs=()):
        stop(sorted(stopped))
    where = out or folder.root / "out"
    if not where.is_dir():
        if out is not None:
            raise click.UsageError(f"there is no folder {shown(out)}: name the one that the PDFs were printed into")
        click.echo("Nothing has been printed yet: docgen print --due")
        return
    found = listed(folder, where, on)
    for path, why in found.others:
        click.echo(f"{shown(path)} is left out: {why}", err=True)
    models = {
        name: folder.models[record.engine.model].value.title
        for name, record in folder.engines.items()
        if record.engine.model in folder.models
    }
    titles = {code: folder.procedures[name].value.title for code, name in folder.codes.items()}
    page = index_page(found.sheets, models, titles, folder.club.value, on)
    replace(where / "index.html", page.encode("utf-8"))
    old = sum(one.state == SUPERSEDED for one in found.sheets)
    held = f", {old} of them superseded" if old else ""
    click.echo(f"{counted(len(found.sheets), 'sheet')}{held}: {shown(where / 'index.html')}")
