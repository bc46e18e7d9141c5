"""Record what is released, so that a later change without a new revision is seen."""

from __future__ import annotations

import click

from docgen.cli import _options as option
from docgen.cli._saying import stop
from docgen.cli.frame import Session
from docgen.club.content import content_digest
from docgen.club.folder import Folder
from docgen.club.problem import counted
from docgen.club.store import replace
from docgen.desk.choosing import jobs_named
from docgen.job.expand import used
from docgen.proof import proof_all
from docgen.proof.releases import FILE, Release, read_released, released_text


@option.command("Note the revision and digest of what proofs clean.", "docgen release CLU")
@click.argument("jobs", nargs=-1, shell_complete=option.job_names)
def command(session: Session, jobs: tuple[str, ...]) -> None:
    """Release JOBS (or all), with the sequences that they use: note each one's revision and digest.

    Only what proofs clean is released. From then on, docgen proof reports a text that changed while its revision did
    not. The record is procedures/RELEASED.
    """
    folder = session.read()
    chosen = {read.value.procedure for read in jobs_named(folder, jobs)} or set(folder.procedures)
    releases, problems = read_released(folder.root)
    problems += [p for p in folder.problems if p.path.startswith(("club.yaml", "procedures/", "models/"))]
    problems += proof_all(folder, only=chosen, released=releases)
    errors = sorted({problem for problem in problems if problem.level == "error"})
    if errors:
        stop(errors)
    new = [one for one in _releases(folder, chosen) if releases.get(one.name) != one]
    if new:
        replace(folder.root / FILE, released_text(releases, new).encode())
    for one in new:
        click.echo(f"{one.name} revision {one.revision}")
    click.echo(f"{counted(len(new), 'file')} released" if new else "Nothing new to release.")


def _releases(folder: Folder, chosen: set[str]) -> list[Release]:
    found = []
    for name in sorted(chosen):
        read = folder.procedures[name]
        found.append(Release(name, read.value.revision, content_digest(read.document)))
        for part in used(read.value):
            sequence = folder.sequences[part]
            found.append(Release(part, sequence.value.revision, content_digest(sequence.document)))
    return sorted(set(found), key=lambda one: one.name)
