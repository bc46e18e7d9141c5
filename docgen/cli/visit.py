"""Print several jobs of one engine as one visit."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import report, stop
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import Session
from docgen.cli.kit import print_kit
from docgen.cli.mat import said_of
from docgen.cli.print import print_jobs
from docgen.club.folder import Folder
from docgen.club.stock import read_stock
from docgen.desk.choosing import jobs_named
from docgen.job.job import Job
from docgen.job.keywords import instructions_mark
from docgen.job.resolve import figures_of
from docgen.plan.kit import kit_of
from docgen.plan.laydown import laydown_of, without_size
from docgen.visit.job import CODE, in_one_visit, sheets
from docgen.visit.together import Visit, visit


@option.command(
    "Print the jobs of one engine as one strip-down.",
    "docgen visit 017",
    "docgen visit 017 --job CLU --job STA",
)
@option.engine
@option.jobs
@option.on
@option.language
@option.out("Where the PDFs go.")
@option.processes
@option.json
def command(
    session: Session, engine: str, jobs: tuple[str, ...], on: date, out: Path | None, processes: int | None,
    as_json: bool,
) -> None:  # fmt: skip
    """Print one leaf, one sign-off sheet, one kit list and one mat for all that is due on ENGINE (or the jobs named).

    The engine is taken apart once and put together once: what is off already is not taken off again, and work that
    several jobs share is done once. The signed sheet files one event for each job that is ticked as complete. A job
    that cannot be joined with the others is printed by itself.
    """
    folder = session.read()
    wanted = wanted_jobs(folder, (engine,), _with_gathered(folder, engine, jobs), False, on)
    if report(sorted({p for want in wanted for p in want.faults})):
        click.echo("Nothing was printed. Mend the faults first.", err=True)
        raise click.exceptions.Exit(1)
    if CODE in folder.codes:
        raise click.UsageError(f"{folder.codes[CODE]} has the code {CODE}, which a visit bears: give it another one")
    if not wanted:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name the jobs with --job.")
        return
    found = _joined(folder, wanted, on)
    why = {want.procedure.value.procedure: want.why for want in wanted}
    made = sheets(folder, wanted[0].record, found, on, why)
    printed = out or folder.root / "out"
    print_jobs(folder, made, [engine], len(made), on, printed, processes, as_json)
    if found.steps and not as_json:
        _lay_ready(folder, made, found, on, printed)


def _with_gathered(folder: Folder, engine: str, jobs: tuple[str, ...]) -> tuple[str, ...]:
    """The jobs named, and what they gather for this engine's type."""
    record = folder.engines.get(engine)
    if record is None or record.engine.model not in folder.models:
        return jobs
    model = folder.models[record.engine.model].value
    named = [job.value for job in jobs_named(folder, jobs)]
    gathered = [name for job in named for name in job.gathers if folder.fits(name, model)]
    return tuple(dict.fromkeys((*(job.procedure for job in named), *gathered)))


def _joined(folder: Folder, wanted: list[Wanted], on: date) -> Visit:
    """The jobs joined, as many as can be; says why the others stay apart."""
    record = wanted[0].record
    found = visit(folder, record, in_one_visit(folder, record, [want.procedure for want in wanted]), on)
    for job, reason in found.apart:
        click.echo(f"{job.value.title} is printed by itself: {reason}.", err=True)
    return found


def _lay_ready(folder: Folder, sheets: list[Job], found: Visit, on: date, out: Path) -> None:
    """One kit list for all of it, and one mat for the visit."""
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.mat import mat

    club, told = folder.club.value, sheets[0].instructions
    stock, problems = read_stock(folder)
    if problems:
        stop(problems)
    counted_on = stock.value.counted if stock else None
    kit = kit_of(sheets, club, stock.value if stock else None)
    print_kit(folder, kit, on, out / told.engine, f"-{told.engine}-{CODE}", counted_on)
    laid = laydown_of(found.steps, figures_of(folder, folder.engines[told.engine], on))
    if laid.pieces and not without_size(folder, told.model, laid):
        made = mat(laid, told, club)
        order = plain_order(said_of(made, laid, club, told.code, None), made.page, club.club, on,
                            (told.engine, told.code, told.model, instructions_mark(told)))  # fmt: skip
        print_pages([Wish(order, out / told.engine / f"{told.engine}-{CODE}-mat.pdf")])

