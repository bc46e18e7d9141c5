"""Print the reading: the whole explanation of a job, for who does it the first time."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session


@option.command(
    "The whole explanation of a job, for who does it the first time.",
    "docgen reading CLU", "docgen reading CLU --engine 017",
)  # fmt: skip
@click.argument("jobs", nargs=-1, required=True, shell_complete=option.job_names)
@click.option("--engine", shell_complete=option.engine_names, help="For one engine, with what is its own.")
@click.option("--model", help="For one engine type.  [default: each type that the job is for]")
@option.on
@option.language
@option.out("Where the PDFs go.")
def command(
    session: Session, jobs: tuple[str, ...], engine: str | None, model: str | None, on: date, out: Path
) -> None:
    """Print the reading of JOBS, once for each engine type that they are for.

    It holds every step with its reason, what is good and what to do if not, and the drawings. The bench leaf bears the
    same numbers. A page of the club's own beside a job, procedures/NAME.md, is printed at the front.
    """
    from docgen.cli._pages import print_pages
    from docgen.desk.wall import readings

    print_pages(session.root, readings(session.read(), jobs, on, out, engine=engine, model=model))
