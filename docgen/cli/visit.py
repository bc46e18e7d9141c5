"""Print several jobs of one engine as one visit."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import warn
from docgen.cli.frame import Session


@option.command("Print the jobs of one engine as one strip-down.",
                "docgen visit 017", "docgen visit 017 --job CLU --job STA")  # fmt: skip
@option.engine
@option.jobs
@option.on
@option.language
@option.out("Where the PDFs go.")
@option.processes
@option.json
def command(
    session: Session, engine: str, jobs: tuple[str, ...], on: date, out: Path, processes: int | None, as_json: bool
) -> None:
    """Print one leaf, one sign-off sheet, one kit list and one mat for all that is due on ENGINE (or the jobs named).

    The engine is taken apart once and put together once: what is off already is not taken off again, and work that
    several jobs share is done once. The signed sheet files one event for each job that is ticked as complete. A job
    that cannot be joined with the others is printed by itself.
    """
    from docgen.cli._pages import print_pages
    from docgen.cli._printing import print_jobs
    from docgen.cli.kit import print_kit
    from docgen.desk.kit import joined

    folder = session.read()
    found = joined(folder, engine, jobs, on, warn)
    if found is None:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name the jobs with --job.")
        return
    print_jobs(folder, found.jobs, [engine], len(found.jobs), on, out, processes, as_json)
    if found.found.steps and not as_json:
        print_kit(folder, found.kit(), on, out / engine, found.suffix)
        print_pages(folder.root, found.mat(out))
