"""The blank set: the sheets of an engine that is not in the records yet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from docgen.cli._saying import report, stop
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem, close_name
from docgen.club.schema.procedure import Procedure
from docgen.desk.choosing import jobs_named
from docgen.job.blank import blank_job, blank_record
from docgen.proof import proof_job


def print_blank(folder: Folder, model: str, names: Sequence[str], on: date, out: Path | None, unproofed: bool) -> None:
    """Print the bench leaf and the sign-off sheet of each job: those named, or all that an interval makes due."""
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import order
    from docgen.sheets.leaf import leaf
    from docgen.sheets.signoff import signoff

    club = folder.club.value
    wanted = _wanted(folder, model, names)
    record = blank_record(folder, model, on)
    faults: dict[str, list[Problem]] = {}
    for one in wanted:
        found = proof_job(folder, one, record, on)
        faults[one.value.procedure] = [problem for problem in found if problem.level == "error"]
    if report(sorted({problem for each in faults.values() for problem in each})) and not unproofed:
        click.echo("Nothing was printed. Mend the faults, or print with --unproofed and have it said.", err=True)
        raise click.exceptions.Exit(1)
    wishes = []
    for procedure in wanted:
        job = blank_job(folder, model, procedure, on, unproofed=len(faults[procedure.value.procedure]))
        code = job.instructions.code
        for sheet, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
            made = order(f"Blank {sheet} of {code}", page, job, club.club, forms=sheet == "sign-off")
            path = (out or folder.root / "out") / "blank" / model / f"{model}-{code}-{sheet}.pdf"
            wishes.append(Wish(made, path))
    print_pages(wishes)


def _wanted(folder: Folder, model: str, names: Sequence[str]) -> list[Read[Procedure]]:
    chosen = jobs_named(folder, names)
    if stopped := folder.blocking("", [one.value.procedure for one in chosen] if chosen else None, [model]):
        stop(sorted(stopped))
    if model not in folder.models:
        close = close_name(model, list(folder.models))
        meant = f'; did you mean "{close}"?' if close else f"; known: {', '.join(sorted(folder.models))}"
        raise click.UsageError(f'there is no engine type "{model}"{meant}')
    kind = folder.models[model].value
    for one in chosen:
        if why := folder.why_not(one.value.procedure, kind):
            raise click.UsageError(f"{one.value.procedure} is not for {kind.title}: {why}")
    every = (folder.procedures[one.procedure] for one in folder.for_model(kind))
    return chosen or [one for one in every if (often := one.value.every) is not None and often.counted]
