"""The safety sheet of the club's materials."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.problem import close_name


@option.command(
    "What each material can do to you, and what to do about it.",
    "docgen safety",
    "docgen safety brake-cleaner",
)
@click.argument("materials", nargs=-1)
@option.on
@option.language
@option.out()
def command(session: Session, materials: tuple[str, ...], on: date, out: Path | None) -> None:
    """Print the safety sheet for MATERIALS of the register (or all): hazard statements by their codes, what they ask
    for, waste, and room for the numbers to call.

    The product's own safety data sheet and label, and local rules, come first; the sheet says so.
    """
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.safety import safety_sheet, unknown_codes

    folder = session.read()
    club = folder.club.value
    for name in materials:
        if name not in club.materials:
            close = close_name(name, sorted(club.materials))
            meant = f'; did you mean "{close}"?' if close else f"; known: {', '.join(sorted(club.materials))}"
            raise click.UsageError(f'there is no material "{name}" in club.yaml{meant}')
    materials = tuple(dict.fromkeys(materials))
    if problems := unknown_codes(folder.club, materials):
        stop(problems)
    page = safety_sheet(club, materials, on)
    suffix = "".join(f"-{name}" for name in materials)[:80]
    order = plain_order("Safety sheet", page, club.club, on, ("safety", *materials))
    print_pages([Wish(order, (out or folder.root / "out") / f"safety{suffix}.pdf")])
