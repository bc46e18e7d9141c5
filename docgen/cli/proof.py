"""Find at the desk what a mechanic would otherwise find on the bench."""

from __future__ import annotations

from datetime import date

import click

from docgen.cli import _options as option
from docgen.cli._saying import report
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.proofing import proofed


@option.command(
    "Find what would go wrong on the bench.",
    "docgen proof", "docgen proof CLU", "docgen proof CLU --engine 017",
)  # fmt: skip
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
        from docgen.proof.rulebook import rulebook

        for rule in rulebook():
            click.echo(click.wrap_text(rule.says, 100, f"{rule.name:28} ", " " * 29))
        return
    folder = session.read()
    if only_unchecked:
        from docgen.proof.unchecked import unchecked

        for one in unchecked(folder):
            click.echo(str(one))
        return
    found = proofed(folder, jobs, on, engine or "")
    errors = report(found.problems, as_json)
    if not found.problems and not as_json:
        click.echo(f"{counted(found.jobs, 'job')} proofed, nothing to mend")
    if jobs and not as_json and found.unread:
        says = f"Not proofed on {', '.join(found.unread)}: docgen proof says why it cannot be read"
        click.echo(says, err=bool(found.problems))
    if found.blind and not as_json:
        says = f"{counted(found.blind, 'torque')} not checked in full: docgen proof --unchecked says why"
        click.echo(says, err=bool(found.problems))
    if errors:
        raise click.exceptions.Exit(1)
