"""Print the reading: the whole explanation of a job, for who does it the first time."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._pages import Wish, print_pages
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.folder import Folder, Read
from docgen.club.problem import close_name
from docgen.club.schema.procedure import Procedure
from docgen.desk.choosing import jobs_named
from docgen.job.blank import blank_job
from docgen.job.job import Job
from docgen.job.resolve import resolve


@option.command(
    "The whole explanation of a job, for who does it the first time.",
    "docgen reading CLU",
    "docgen reading CLU --engine 017",
)
@click.argument("jobs", nargs=-1, required=True, shell_complete=option.job_names)
@click.option("--engine", shell_complete=option.engine_names, help="For one engine, with what is its own.")
@click.option("--model", help="For one engine type.  [default: each type that the job is for]")
@option.on
@option.language
@option.out("Where the PDFs go.")
def command(
    session: Session, jobs: tuple[str, ...], engine: str | None, model: str | None, on: date, out: Path | None
) -> None:
    """Print the reading of JOBS, once for each engine type that they are for.

    It holds every step with its reason, what is good and what to do if not, and the drawings. The bench leaf bears the
    same numbers. A page of the club's own beside a job, procedures/NAME.md, is printed at the front.
    """
    from docgen.press.orders import order
    from docgen.sheets.reading import reading

    if engine and model:
        raise click.UsageError("--engine or --model, not both: an engine has its type")
    folder = session.read()
    club, where = folder.club.value, (out or folder.root / "out") / "reading"
    wishes = []
    for job, name in _jobs(folder, jobs_named(folder, jobs), engine, model, on):
        told = job.instructions
        page = folder.pages.get(told.procedure)
        made = reading(job, club, teaching=page.value.text if page else "")
        orders = order(f"Reading of {told.code} for {name}", made, job, club.club)
        wishes.append(Wish(orders, where / f"{told.code}-{name}-reading.pdf"))
    print_pages(wishes)


def _jobs(
    folder: Folder, chosen: list[Read[Procedure]], engine: str | None, model: str | None, on: date
) -> Iterator[tuple[Job, str]]:
    """Each job for each engine type, or for the engine, with the name that tells the files apart."""
    names = [one.value.procedure for one in chosen]
    if stopped := folder.blocking(engine or "", names, [model] if model else None):
        stop(sorted(stopped))
    models = [model] if model else sorted(folder.models)
    if model and model not in folder.models:
        close = close_name(model, list(folder.models))
        raise click.UsageError(f'there is no engine type "{model}"' + (f'; did you mean "{close}"?' if close else ""))
    if engine and engine not in folder.engines:
        raise click.UsageError(f'there is no engine "{engine}"; known: {", ".join(sorted(folder.engines))}')
    for procedure in chosen:
        if engine:
            record = folder.engines[engine]
            if folder.fits(procedure.value.procedure, folder.models[record.engine.model].value):
                yield resolve(folder, record, procedure, on), engine
            continue
        for name in models:
            if folder.fits(procedure.value.procedure, folder.models[name].value):
                yield blank_job(folder, name, procedure, on), name
