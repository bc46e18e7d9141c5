"""Printing pages for a command, and saying where they lie."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from docgen.club.placement import lay
from docgen.club.problem import counted
from docgen.desk.pages import Wish, print_all
from docgen.desk.system import shown


def print_pages(root: Path, wishes: Sequence[Wish], files: Mapping[Path, bytes] | None = None) -> None:
    """Print all pages, lay them and `files` in their places, and say where they lie. Errors: Unprinted, OSError."""
    for one in print_all(root, wishes):
        if one.aside is not None:
            click.echo(laid_aside(one.aside), err=True)
        click.echo(f"{one.says}, {counted(one.pages, 'page')}: {shown(one.path)}")
    for path, data in (files or {}).items():
        put(path, data)


def put(path: Path, data: bytes) -> None:
    """Lay a printed file at its name; say so where something lay there that docgen did not print. Errors: OSError."""
    if (aside := lay(path, data)) is not None:
        click.echo(laid_aside(aside), err=True)


def laid_aside(aside: Path) -> str:
    """What is said of a file that docgen did not print, found where a print was to lie."""
    return f"What lay there is not as it was printed; it is now {shown(aside)}"
