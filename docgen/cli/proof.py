"""Find at the desk what a mechanic would otherwise find on the bench."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._saying import report
from docgen.cli.frame import Session
from docgen.club.beside import read_glossary
from docgen.club.fitting import NOT_FITTING, not_fitting
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.problem import Problem, counted
from docgen.club.schema.procedure import Procedure
from docgen.club.uses import applies
from docgen.desk.choosing import engines_named, fitting, jobs_named
from docgen.desk.clock import today
from docgen.proof import proof_all, proof_job
from docgen.proof.releases import read_released
from docgen.proof.rulebook import rulebook
from docgen.proof.unchecked import unchecked


@option.command(
    "Find what would go wrong on the bench.",
    "docgen proof",
    "docgen proof CLU",
    "docgen proof CLU --engine 017",
)
@click.argument("jobs", nargs=-1, shell_complete=option.job_names)
@click.option("--engine", shell_complete=option.engine_names, help="Proof for this very engine, deviations too.")
@click.option("--on", type=option.Day(), help="The day, for calibration dates.  [default: none; today with --engine]")
@click.option("--rules", "only_rules", is_flag=True, help="List the rules, and end.")
@click.option("--unchecked", "only_unchecked", is_flag=True, help="List the torques that no rule can check, and end.")
@option.json
def command(
    session: Session, jobs: tuple[str, ...], engine: str | None, on: date | None, only_rules: bool,
    only_unchecked: bool, as_json: bool,
) -> None:  # fmt: skip
    """Proof JOBS (or all): carry out every step on every engine type that it applies to, and say what goes wrong.

    Each rule has its page in docs/rules. Exit code 0: nothing to mend; 1: something to mend.
    """
    if only_rules:
        for rule in rulebook():
            click.echo(click.wrap_text(rule.says, 100, f"{rule.name:28} ", " " * 29))
        return
    folder = session.read()
    if only_unchecked:
        for one in unchecked(folder):
            click.echo(str(one))
        return
    chosen = jobs_named(folder, jobs)
    if engine:
        record = engines_named(folder, [engine])[0]
        chosen = _for_model(folder, chosen, record)
        problems = [one for read in chosen for one in proof_job(folder, read, record, on or today())]
    else:
        problems = _for_types(folder, chosen, on)
        chosen = chosen or list(folder.procedures.values())
    found = sorted({*_of_interest(folder, chosen if jobs else []), *problems})
    errors = report(found, as_json)
    if not found and not as_json:
        click.echo(f"{counted(len(chosen), 'job')} proofed, nothing to mend")
    if jobs and not as_json and (unread := sorted(path for path in folder.broken if path.startswith("models/"))):
        click.echo(f"Not proofed on {', '.join(unread)}: docgen proof says why it cannot be read", err=bool(found))
    blind = 0 if as_json or jobs else sum(1 for _ in unchecked(folder))
    if blind:
        says = f"{counted(blind, 'torque')} not checked in full: docgen proof --unchecked says why"
        click.echo(says, err=bool(found))
    if errors:
        raise click.exceptions.Exit(1)


def _for_types(folder: Folder, chosen: list[Read[Procedure]], on: date | None) -> list[Problem]:
    releases, problems = read_released(folder.root)
    _, misread = read_glossary(folder)
    only = {read.value.procedure for read in chosen} or None
    return problems + misread + proof_all(folder, on, only, releases)


def _of_interest(folder: Folder, chosen: list[Read[Procedure]]) -> Iterator[Problem]:
    """What reading found in the files that the chosen jobs need, or in all where none was chosen."""
    if not chosen:
        yield from folder.problems
        return
    names = [read.value.procedure for read in chosen]
    models = [name for name, read in folder.models.items() if any(applies(one.value, read.value) for one in chosen)]
    for model in models:
        if note := not_fitting(folder, model, names):
            yield note
    wanted = folder.files_of(names) | {f"models/{name}.yaml" for name in models} | {"club.yaml"}
    yield from (one for one in folder.problems if one.path in wanted and one.name != NOT_FITTING)


def _for_model(folder: Folder, chosen: list[Read[Procedure]], record: EngineRecord) -> list[Read[Procedure]]:
    """The jobs chosen, or all that are for the engine's model; none while its model cannot be read."""
    if record.engine.model not in folder.models:
        return []
    fitting(folder, chosen, record.engine.model)
    model = folder.models[record.engine.model].value
    return chosen or [folder.procedures[one.procedure] for one in folder.for_model(model)]
