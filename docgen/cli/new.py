"""Begin: a club, an engine, an engine type, a procedure; each as a file that teaches and is right from the start."""

from __future__ import annotations

import click

from docgen.cli._new_club import club
from docgen.cli._new_engine import engine
from docgen.cli._new_model import model
from docgen.cli._new_procedure import procedure


@click.group(short_help="Begin a club, an engine, an engine type or a procedure.")
def command() -> None:
    """Begin something new: a few questions, then a file with notes that explain it. Nothing is ever written over.

    Each question can be answered by an option, and --yes asks nothing.
    """


for one in (club, engine, model, procedure):
    command.add_command(one)
