"""Labels for bags, boxes, cans and engines, on label sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any

import click

from docgen.cli import _options as option
from docgen.cli._label_sheets import known_sheets, print_labels, words_of
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.problem import close_name
from docgen.desk.choosing import engines_named
from docgen.job.components import Component, components
from docgen.job.figures import Figures
from docgen.job.resolve import resolve
from docgen.job.state import state_of
from docgen.plan.laydown import Laydown, laydown
from docgen.plan.stopped import open_after
from docgen.trade.errors import TradeError

if TYPE_CHECKING:
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


_sheet = option.together(
    click.option("--sheet", "sheet_name", help="The label sheet; docgen labels sheets lists them."),
    click.option("--start", type=int, default=1, show_default=True, help="First free label, counted row by row."),
    click.option("--outline", is_flag=True, help="Draw the labels' edges, for a trial on plain paper."),
    option.on, option.language, option.out(),
)  # fmt: skip
_blank = click.option("--blank", type=click.IntRange(0, 60), default=0, help="And so many to write on.")
_copies = click.option("--copies", type=click.IntRange(1, 60), default=1, show_default=True, help="How many.")


@option.command("One bag for each stage in which pieces come off.", under=command)
@option.engine
@option.jobs
@_blank
@_sheet
def parts(session: Session, engine: str, jobs: tuple[str, ...], on: date, **rest: Any) -> None:
    """One label for the bag of each stage in which pieces come off ENGINE: what lies in it, and what becomes of it.

    For all that is due, or the jobs named with --job. The old parts of each job have a bag of their own.
    """
    from docgen.sheets.labelkinds import bag_labels

    _of_jobs(session, "parts", bag_labels, engine, jobs, on, **rest)


@option.command("DO NOT REFIT, for the old parts of a job.", under=command)
@option.engine
@option.jobs
@_blank
@_sheet
def old(session: Session, engine: str, jobs: tuple[str, ...], on: date, **rest: Any) -> None:
    """DO NOT REFIT: one label for all pieces of ENGINE that a job replaces by new ones."""
    from docgen.sheets.labelkinds import old_labels

    _of_jobs(session, "old", old_labels, engine, jobs, on, **rest)


@option.command("Numbered components on the shelf, with their hours.", under=command)
@click.argument("numbers", nargs=-1)
@_blank
@_sheet
def spares(session: Session, numbers: tuple[str, ...], blank: int, on: date, **rest: Any) -> None:
    """Kept spares: one label for each numbered component that lies on the shelf, or for those with NUMBERS."""
    from docgen.sheets.labelkinds import spare_labels, to_write_on

    folder = session.read()
    w = words_of(folder)
    labels = spare_labels(list(_shelf(folder, numbers, on)), w) + [to_write_on("spares", "", w)] * blank
    if not labels:
        click.echo(f"No numbered component lies on the shelf on {on.isoformat()}; --blank 4 gives labels to write on.")
        return
    print_labels(folder, "spares", labels, on, **rest)


@option.command("A can of fuel mix.", under=command)
@click.option("--litres", help="Litres of petrol, as in 10.")
@click.option("--ratio", help="Parts of petrol to one of oil, as in 25 or 25:1.")
@click.option("--by", default="", help="Who mixed it.")
@_copies
@_sheet
def fuel(
    session: Session, litres: str | None, ratio: str | None, by: str, copies: int, on: date, **rest: Any
) -> None:
    """The label of a can: litres, oil, ratio, date. Without figures it is filled in by hand."""
    from docgen.sheets.labelkinds import fuel_label
    from docgen.trade.fuel import mix

    if (litres is None) != (ratio is None):
        raise click.UsageError("--litres and --ratio go together: how much oil there is follows from both")
    try:
        mixed = mix(_decimal("--litres", litres), _decimal("--ratio", _one_part(ratio))) if litres and ratio else None
    except TradeError as error:
        raise click.UsageError(error.message) from None
    folder = session.read()
    print_labels(folder, "fuel", [fuel_label(mixed, on, by, words_of(folder))] * copies, on, **rest)


@option.command("DO NOT START: where work stopped, and what is loose.", under=command)
@option.engine
@click.option("--job", shell_complete=option.job_names, help="The job that stopped, by name or sheet code.")
@click.option("--after", metavar="ROW", help="The last row of the leaf that was done, as 17, or a step in it, 17b.")
@click.option("--by", default="", help="Who stopped.")
@_copies
@_sheet
def tag(
    session: Session, engine: str, job: str | None, after: str | None, by: str, copies: int, on: date, **rest: Any
) -> None:  # fmt: skip
    """The tag that keeps ENGINE from being started. What is off or loose after a row comes from the simulation.

    Without --job and --after it is filled in by hand.
    """
    from docgen.sheets.labelkinds import Stopped
    from docgen.sheets.labelkinds import tag as tag_label

    if (job is None) != (after is None):
        raise click.UsageError("--job and --after go together: which job stopped, and after which of its rows")
    folder = session.read()
    engines_named(folder, (engine,))
    stopped = None
    if job is not None and after is not None:
        ((want, laid),) = _laid(folder, engine, (job,), on)
        try:
            found = open_after(laid.run, after, _figures(folder, want, on))
        except ValueError as error:
            raise click.UsageError(f"{want.procedure.value.code} on engine {engine}: {error}") from None
        stopped = Stopped(resolve(folder, want.record, want.procedure, on).instructions, after, found)
    made = tag_label(engine, stopped, on, by, words_of(folder))
    print_labels(folder, "tag", [made] * copies, on, where=engine, **rest)


@option.command("The label sheets that are known.", under=command)
def sheets(session: Session) -> None:
    """The label sheets that are known: those that come with docgen, and the club's own (labels.yaml)."""
    for name, one in sorted(known_sheets(session.read()).items()):
        grid = f"{one.columns} by {one.rows} labels of {one.width:g} by {one.height:g} mm"
        click.echo(f"{name:<8} {one.paper:<7} {grid}; the first {one.left:g} mm from the left, {one.top:g} mm down")


def _of_jobs(
    session: Session, kind: str, make: Callable[..., list[Label]], engine: str, jobs: tuple[str, ...], on: date,
    blank: int, **rest: Any,
) -> None:  # fmt: skip
    from docgen.sheets.labelkinds import to_write_on

    folder = session.read()
    w = words_of(folder)
    labels = [
        label
        for want, laid in _laid(folder, engine, jobs, on)
        for label in make(laid, resolve(folder, want.record, want.procedure, on).instructions, on, w)
    ]
    labels += [to_write_on(kind, engine, w)] * blank
    if not labels:
        what = "comes off" if kind == "parts" else "is replaced"
        said = "in these jobs" if jobs else f"in what is due on {on.isoformat()}: name a job with --job"
        click.echo(f"Nothing {what} on engine {engine} {said}.")
        return
    print_labels(folder, kind, labels, on, where=engine, **rest)


def _laid(folder: Folder, engine: str, jobs: tuple[str, ...], on: date) -> Iterator[tuple[Wanted, Laydown]]:
    for want in wanted_jobs(folder, (engine,), jobs, False, on):
        yield want, laydown(folder, want.procedure, _figures(folder, want, on))


def _figures(folder: Folder, want: Wanted, on: date) -> Figures:
    return Figures(folder.club.value, folder.models[want.record.engine.model].value, state_of(want.record, on))


def _shelf(folder: Folder, numbers: tuple[str, ...], on: date) -> Iterator[tuple[str, Component]]:
    """The numbered components on the shelf with their names; those named, which must lie there."""
    found = sorted(components(folder, on).values(), key=lambda one: (one.part, one.number))
    known = {one.number: one for one in found}
    for number in numbers:
        if number not in known:
            close = close_name(number, list(known))
            meant = f'; did you mean "{close}"?' if close else ""
            raise click.UsageError(f'there is no component "{number}"{meant}')
        if known[number].stints[-1].until is None:
            place = known[number].stints[-1].engine
            raise click.UsageError(f"{number} is on engine {place}, not on the shelf: docgen move enters where it goes")
    for one in found:
        if one.stints[-1].until is not None and (not numbers or one.number in numbers):
            record = folder.engines[one.stints[-1].engine]
            part = folder.models[record.engine.model].value.parts.get(one.part)
            yield (part.name if part and part.name else one.part.replace("-", " ")), one


def _one_part(ratio: str) -> str:
    """The parts of petrol to one of oil: `25`, `25:1`, and `1:25`, as it is said in some places."""
    first, colon, second = (piece.strip() for piece in ratio.partition(":"))
    return second if colon and first == "1" else first if colon and second == "1" else ratio


def _decimal(option: str, text: str) -> Decimal:
    try:
        value = Decimal(text.strip())
    except InvalidOperation:
        value = Decimal("NaN")
    if not value.is_finite():
        raise click.UsageError(f'{option} "{text}" is not a number: write digits with a point, as in 12.5')
    return value
