"""The club's glossary as a page."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.beside import GLOSSARY, read_glossary


@option.command("The terms of the trade on one page.", "docgen glossary")
@option.on
@option.language
@option.out()
def command(session: Session, on: date, out: Path | None) -> None:
    """Print the terms of glossary.yaml with what they mean, for the wall or the first page of a binder."""
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.glossary import glossary_page

    folder = session.read()
    read, problems = read_glossary(folder)
    if problems:
        stop(problems)
    if read is None or not read.value.terms:
        click.echo(f"There are no terms to print: write them into {GLOSSARY} in the club's folder.", err=True)
        raise click.exceptions.Exit(1)
    club = folder.club.value
    page = glossary_page(read.value, club, on)
    order = plain_order("Glossary", page, club.club, on, ("glossary",))
    print_pages([Wish(order, (out or folder.root / "out") / "glossary.pdf")])
