"""The safety sheet of the club's materials."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session


@option.command(
    "What each material can do to you, and what to do about it.", "docgen safety", "docgen safety brake-cleaner"
)
@click.argument("materials", nargs=-1)
@option.on
@option.language
@option.out()
def command(session: Session, materials: tuple[str, ...], on: date, out: Path) -> None:
    """Print the safety sheet for MATERIALS of the register (or all): hazard statements by their codes, what they ask
    for, waste, and room for the numbers to call.

    The product's own safety data sheet and label, and local rules, come first; the sheet says so.
    """
    from docgen.cli._pages import print_pages
    from docgen.desk.wall import safety_of

    print_pages(session.root, [safety_of(session.read(), materials, on, out)])
