"""Printing pages for a command, and saying where they lie."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import click

from docgen.cli._system import laid_aside, put, shown
from docgen.club.problem import counted
from docgen.desk.pages import Wish, print_all


def print_pages(root: Path, wishes: Sequence[Wish], files: Mapping[Path, bytes] | None = None) -> None:
    """Print all pages, lay them and `files` in their places, and say where they lie. Errors: Unprinted, OSError."""
    for one in print_all(root, wishes):
        if one.aside is not None:
            click.echo(laid_aside(one.aside), err=True)
        click.echo(f"{one.says}, {counted(one.pages, 'page')}: {shown(one.path)}")
    for path, data in (files or {}).items():
        put(path, data)
