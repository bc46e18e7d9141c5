"""Everything for one engine, or for a day's work on several, in one file for the printer."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import warn
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import shown


@option.command("All sheets for an engine, or for a day's work, in one file.",
                "docgen binder 017", "docgen binder --due --no-mats")  # fmt: skip
@option.engines
@option.jobs
@option.due
@click.option("--mat-paper", help="What the mats are printed on, as for docgen mat.")
@click.option("--no-mats", is_flag=True, help="Leave the layout mats out.")
@option.on
@option.language
@option.out()
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheets say so.")
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, mat_paper: str | None,
    no_mats: bool, on: date, out: Path, unproofed: bool,
) -> None:  # fmt: skip
    """Bind everything for ENGINES, for the jobs named with --job or all that is due, into one file.

    One engine: its card, the kit, and each job's bench leaf, sign-off sheet and mat. Several: the same for a day's
    work, without the cards. The contents name every sheet's number and page; each sheet begins on a front page, so that
    the whole goes to the printer at once, on both sides. Each print is numbered, as with docgen print. What cannot be
    made is left out, which is said in a line, and then the exit code is 1.
    """
    if not engines and not jobs and not only_due:
        raise click.UsageError("say what to bind: an engine, a --job, or --due for all that is due")
    if no_mats and mat_paper:
        raise click.UsageError("--mat-paper and --no-mats do not go together")
    from docgen.cli._pages import laid_aside
    from docgen.desk.binder import Binder
    from docgen.desk.mat import flat
    from docgen.desk.wanted import wanted_jobs

    folder = session.read()
    mats = None if no_mats else flat(folder.club.value, mat_paper)
    wanted = wanted_jobs(folder, engines, jobs, on, only_due=only_due, say=warn)
    if not wanted:
        click.echo(f"Nothing is due on {on.isoformat()}: name a job with --job.")
        return
    binder = Binder(folder, on, out, warn, mats)
    sheets, made = binder.bind(wanted, unproofed=unproofed)
    if made.aside is not None:
        warn(laid_aside(made.aside))
    total = f"{counted(len(sheets), 'sheet')} on {counted(made.pages, 'page')}"
    click.echo(f"{total}, to print on both sides: {shown(made.path)}")
    if binder.left_out:
        raise click.exceptions.Exit(1)
