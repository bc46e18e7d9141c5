"""What is made ready for work at the bench: binders, kits, mats, several jobs as one visit."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, warn
from docgen.cli.frame import Session
from docgen.club.problem import counted
from docgen.desk.system import short_path

if TYPE_CHECKING:
    from docgen.club.folder import Folder
    from docgen.desk.kit import LaidReady


@option.command("All sheets for an engine, or for a day's work, in one file.",
                "docgen binder 017", "docgen binder --due --no-mats")  # fmt: skip
@option.engines
@option.jobs
@option.due
@click.option("--mat-paper", help="What the mats are printed on, as for docgen mat.")
@click.option("--no-mats", is_flag=True, help="Leave the layout mats out.")
@option.pages()
@click.option("--unproofed", is_flag=True, help="Print although proofing finds faults; the sheets say so.")
def binder(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, mat_paper: str | None,
    no_mats: bool, on: date, out: Path, unproofed: bool,
) -> bool:  # fmt: skip
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
    from docgen.cli._printing import laid_aside
    from docgen.desk.binder import Binder
    from docgen.desk.mat import flat
    from docgen.desk.selection import wanted_jobs

    folder = session.read()
    mats = None if no_mats else flat(folder.club.value, mat_paper)
    wanted = wanted_jobs(folder, engines, jobs, on, only_due=only_due, say=warn)
    if not wanted:
        click.echo(f"Nothing is due on {on.isoformat()}: name a job with --job.")
        return False
    binder = Binder(folder, on, out, warn, mats)
    sheets, made = binder.bind(wanted, unproofed=unproofed)
    if made.aside is not None:
        warn(laid_aside(made.aside))
    total = f"{counted(len(sheets), 'sheet')} on {counted(made.pages, 'page')}"
    click.echo(f"{total}, to print on both sides: {short_path(made.path)}")
    return binder.left_out


@option.command(
    "What to lay ready for the jobs, and what to order.", "docgen kit 017 --due", "docgen kit 017 --job PRE"
)
@option.engines
@option.jobs
@option.due
@option.pages()
@click.option("--no-cost", is_flag=True, help="Leave prices and cost out.")
@option.json
def kit(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path,
    no_cost: bool, as_json: bool,
) -> None:  # fmt: skip
    """Add up what the jobs of ENGINES (or all) need: those named with --job, or all that is due.

    Tools to lay out, materials in whole containers, spares needed for sure and spares to have at hand. What the shelf
    (stock.yaml) does not hold is short; the order is also written as a table for a spreadsheet.
    """
    from docgen.desk.kit import kit_for
    from docgen.desk.selection import wanted_jobs
    from docgen.plan.kit import to_json

    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, on, only_due=only_due, say=warn)
    found = kit_for(folder, wanted, on, costs=not no_cost)
    if not found.kit.jobs:
        click.echo(f"Nothing is due on {on.isoformat()}: there is nothing to lay ready.")
    elif as_json:
        say_json(to_json(found.kit))
    else:
        _print_kit(folder, found, on, out, _suffix(engines, jobs))


def _print_kit(folder: Folder, found: LaidReady, on: date, out: Path, suffix: str) -> None:
    from docgen.cli._printing import print_pages

    wish, table = found.page(folder, on, out, suffix)
    print_pages(folder.root, [wish], table)
    kit = found.kit
    total = f", {kit.currency} {kit.total:.2f}" if kit.total is not None else ""
    for path in table:
        click.echo(f"Order, {len(kit.order)} lines{total}: {short_path(path)}")


def _suffix(engines: Sequence[str], jobs: Sequence[str]) -> str:
    """What sets a list for some engines or jobs apart from that for all."""
    words = [*engines, *(job if job.isupper() else job.lower() for job in jobs)]
    return "".join(f"-{word}" for word in words)[:80]


@option.command(
    "A numbered place for each piece that comes off.",
    "docgen mat 017 --job CAR", "docgen mat 017 --job CAR --paper A4", "docgen mat 017 --job CAR --box 4x6",
)  # fmt: skip
@option.engine
@option.jobs
@click.option("--paper", help="A4 or A3.  [default: A4 where that holds all places at full size, else A3]")
@click.option("--box", "grid", help="For a parts box instead: compartments across by down, as in 4x6.")
@click.option("--compartment", help="Size of a compartment in mm, as in 45x35.  [default: they fill the paper]")
@option.pages()
def mat(
    session: Session, engine: str, jobs: tuple[str, ...], paper: str | None, grid: str | None, compartment: str | None,
    on: date, out: Path,
) -> None:  # fmt: skip
    """Print the mat for the jobs of ENGINE (all that is due, or those named with --job).

    A place bears the number of the leaf's row. Read backwards, the mat is the order in which the pieces go back. It is
    one sheet: where not all places fit, outlines are drawn smaller, then the largest pieces lie beside it.
    """
    from docgen.cli._printing import print_pages
    from docgen.desk.mat import boxed, flat, mats
    from docgen.desk.selection import wanted_jobs

    folder = session.read()
    club = folder.club.value
    make = boxed(club, paper, grid, compartment) if grid or compartment else flat(club, paper)
    wanted = wanted_jobs(folder, [engine], jobs, on, say=warn)
    if not wanted:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name a job with --job.")
        return
    wishes, bare = mats(folder, wanted, on, out, make, box=bool(grid))
    for code in bare:
        click.echo(f"Nothing comes off in {code}: it needs no mat.")
    print_pages(folder.root, wishes)


@option.command("Print the jobs of one engine as one strip-down.",
                "docgen visit 017", "docgen visit 017 --job CLU --job STA")  # fmt: skip
@option.engine
@option.jobs
@option.pages("Where the PDFs go.")
@option.processes
@option.json
def visit(
    session: Session, engine: str, jobs: tuple[str, ...], on: date, out: Path, processes: int | None, as_json: bool
) -> None:
    """Print one leaf, one sign-off sheet, one kit list and one mat for all that is due on ENGINE (or the jobs named).

    The engine is taken apart once and put together once: what is off already is not taken off again, and work that
    several jobs share is done once. The signed sheet files one event for each job that is ticked as complete. A job
    that cannot be joined with the others is printed by itself.
    """
    from docgen.cli._printing import print_jobs, print_pages
    from docgen.desk.kit import joined

    folder = session.read()
    found = joined(folder, engine, jobs, on, warn)
    if found is None:
        click.echo(f"Nothing is due on engine {engine} on {on.isoformat()}: name the jobs with --job.")
        return
    print_jobs(folder, found.jobs, [engine], len(found.jobs), on, out, processes, as_json)
    if found.found.steps and not as_json:
        _print_kit(folder, found.kit(), on, out / engine, found.suffix)
        print_pages(folder.root, found.mat(out))
