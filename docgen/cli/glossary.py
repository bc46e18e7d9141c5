"""The club's glossary as a page."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from docgen.cli import _options as option
from docgen.cli.frame import Session


@option.command("The terms of the trade on one page.", "docgen glossary")
@option.on
@option.language
@option.out()
def command(session: Session, on: date, out: Path) -> None:
    """Print the terms of glossary.yaml with what they mean, for the wall or the first page of a binder."""
    from docgen.cli._pages import print_pages
    from docgen.desk.wall import glossary_sheet

    print_pages(session.root, [glossary_sheet(session.read(), on, out)])
