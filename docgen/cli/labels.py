"""Labels for bags, boxes, cans and engines, on label sheets."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

import click

from docgen.cli import _options as option
from docgen.cli._saying import warn
from docgen.cli.frame import Session

if TYPE_CHECKING:
    from docgen.club.folder import Folder
    from docgen.sheets.labels import Label


@click.group(short_help="Labels for bags, cans and engines.")
def command() -> None:
    """Print labels on label sheets, from any position of a part-used sheet on.

    \b
    docgen labels parts 023 --job CLU --start 5    one bag for each stage in which pieces come off
    docgen labels old 023 --job CAR                DO NOT REFIT, for the old parts of a job
    docgen labels spares                           numbered components on the shelf, with their hours
    docgen labels fuel --litres 10 --ratio 25      a can of mix; without figures, to be filled in by hand
    docgen labels tag 023 --job CLU --after 17     DO NOT START: stopped there, and what is loose then
    docgen labels sheets                           the label sheets that are known

    Print at full size ("actual size"). Try it on plain paper with --outline first, held against the label sheet.
    """


_labels = partial(option.command, under=command)
_sheet = option.together(
    click.option("--sheet", default="", help="The label sheet; docgen labels sheets lists them."),
    click.option("--start", type=int, default=1, show_default=True, help="First free label, counted row by row."),
    click.option("--outline", is_flag=True, help="Draw the labels' edges, for a trial on plain paper."),
    option.pages(),
)  # fmt: skip
_blank = click.option("--blank", type=click.IntRange(0, 60), default=0, help="And so many to write on.")
_copies = click.option("--copies", type=click.IntRange(1, 60), default=1, show_default=True, help="How many.")


@_labels("One bag for each stage in which pieces come off.")
@option.engine
@option.jobs
@_blank
@_sheet
def parts(session: Session, engine: str, jobs: tuple[str, ...], blank: int, **how: Any) -> None:
    """One label for the bag of each stage in which pieces come off ENGINE: what lies in it, and what becomes of it.

    For all that is due, or the jobs named with --job. The old parts of each job have a bag of their own.
    """
    _of_jobs(session, "parts", engine, jobs, blank, "comes off", how)


@_labels("DO NOT REFIT, for the old parts of a job.")
@option.engine
@option.jobs
@_blank
@_sheet
def old(session: Session, engine: str, jobs: tuple[str, ...], blank: int, **how: Any) -> None:
    """DO NOT REFIT: one label for all pieces of ENGINE that a job replaces by new ones."""
    _of_jobs(session, "old", engine, jobs, blank, "is replaced", how)


@_labels("Numbered components on the shelf, with their hours.")
@click.argument("numbers", nargs=-1)
@_blank
@_sheet
def spares(session: Session, numbers: tuple[str, ...], blank: int, **how: Any) -> None:
    """Kept spares: one label for each numbered component that lies on the shelf, or for those with NUMBERS."""
    from docgen.desk.labels import shelf_labels

    on = how["on"]
    nothing = f"No numbered component lies on the shelf on {on.isoformat()}; --blank 4 gives labels to write on."
    _print(session, "spares", lambda folder: shelf_labels(folder, numbers, on, blank=blank), how, nothing=nothing)


@_labels("A can of fuel mix.")
@click.option("--litres", help="Litres of petrol, as in 10.")
@click.option("--ratio", help="Parts of petrol to one of oil, as in 25 or 25:1.")
@click.option("--by", default="", help="Who mixed it.")
@_copies
@_sheet
def fuel(session: Session, litres: str | None, ratio: str | None, by: str, copies: int, **how: Any) -> None:
    """The label of a can: litres, oil, ratio, date. Without figures it is filled in by hand."""
    from docgen.desk.labels import can_label

    _print(session, "fuel", lambda folder: [can_label(folder, litres, ratio, how["on"], by)] * copies, how)


@_labels("DO NOT START: where work stopped, and what is loose.")
@option.engine
@click.option("--job", shell_complete=option.job_names, help="The job that stopped, by name or sheet code.")
@click.option("--after", metavar="ROW", help="The last row of the leaf that was done, as 17, or a step in it, 17b.")
@click.option("--by", default="", help="Who stopped.")
@_copies
@_sheet
def tag(
    session: Session, engine: str, job: str | None, after: str | None, by: str, copies: int, **how: Any
) -> None:  # fmt: skip
    """The tag that keeps ENGINE from being started. What is off or loose after a row comes from the simulation.

    Without --job and --after it is filled in by hand.
    """
    from docgen.desk.labels import stop_tag

    _print(session, "tag", lambda folder: [stop_tag(folder, engine, job, after, how["on"], warn, by=by)] * copies, how,
           engine)  # fmt: skip


@_labels("The label sheets that are known.")
def sheets(session: Session) -> None:
    """The label sheets that are known: those that come with docgen, and the club's own (labels.yaml)."""
    from docgen.desk.labels import known_sheets

    for name, one in sorted(known_sheets(session.read()).items()):
        grid = f"{one.columns} by {one.rows} labels of {one.width:g} by {one.height:g} mm"
        click.echo(f"{name:<8} {one.paper:<7} {grid}; the first {one.left:g} mm from the left, {one.top:g} mm down")


def _of_jobs(
    session: Session, kind: str, engine: str, jobs: tuple[str, ...], blank: int, what: str, how: dict[str, Any]
) -> None:
    from docgen.desk.labels import job_labels

    on = how["on"]
    due = f"in what is due on {on.isoformat()}: name a job with --job"
    nothing = f"Nothing {what} on engine {engine} {'in these jobs' if jobs else due}."
    _print(session, kind, lambda folder: job_labels(folder, kind, engine, jobs, on, warn, blank=blank), how, engine,
           nothing)  # fmt: skip


def _print(
    session: Session, kind: str, make: Callable[[Folder], list[Label]], how: dict[str, Any], where: str = "",
    nothing: str = "",
) -> None:  # fmt: skip
    from docgen.cli._printing import print_pages
    from docgen.desk.labels import label_page

    folder = session.read()
    if labels := make(folder):
        print_pages(folder.root, [label_page(folder, kind, labels, where=where, **how)])
    else:
        click.echo(nothing)
