"""Record what is released, so that a later change without a new revision is seen."""

from __future__ import annotations

import click

from docgen.cli import _options as option
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.proofing import released


@option.command("Note the revision and digest of what proofs clean.", "docgen release CLU")
@click.argument("jobs", nargs=-1, shell_complete=option.job_names)
def command(session: Session, jobs: tuple[str, ...]) -> None:
    """Release JOBS (or all), with the sequences that they use: note each one's revision and digest.

    Only what proofs clean is released. From then on, docgen proof reports a text that changed while its revision did
    not. The record is procedures/RELEASED.
    """
    new = released(session.read(), jobs)
    for one in new:
        click.echo(f"{one.name} revision {one.revision}")
    click.echo(f"{counted(len(new), 'file')} released" if new else "Nothing new to release.")
