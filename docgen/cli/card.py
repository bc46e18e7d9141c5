"""Print the engine card."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session


@option.command("Print the engine card, for a buyer or a scrutineer.", "docgen card 017")
@click.argument("engines", nargs=-1, required=True, shell_complete=option.engine_names)
@option.on
@option.language
@option.out("Where the PDFs go.")
def command(session: Session, engines: tuple[str, ...], on: date, out: Path) -> None:
    """Print the card of each of ENGINES: identity, hours, parts with a limited life, readings, findings, whole record.

    None is printed while docgen verify finds something in its record. The same on the screen: docgen engine
    """
    from docgen.cli._pages import print_pages
    from docgen.desk.wall import cards

    print_pages(session.root, cards(session.read(), engines, on, out))
