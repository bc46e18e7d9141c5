"""The kit list: tools, materials and spares for any set of jobs, and what to order."""

from __future__ import annotations

import csv
import io
import re
from datetime import date
from pathlib import Path

import click

from docgen.cli import _options as option
from docgen.cli._saying import say_json, stop
from docgen.cli._system import shown
from docgen.cli._wanted import Wanted, wanted_jobs
from docgen.cli.frame import Session
from docgen.club.folder import Folder
from docgen.club.stock import read_stock
from docgen.job.job import Job
from docgen.job.keywords import record_mark
from docgen.job.resolve import resolve
from docgen.plan.kit import Kit, kit_of, to_json, without_price
from docgen.visit.job import in_one_visit, sheets
from docgen.visit.together import visit


@option.command(
    "What to lay ready for the jobs, and what to order.",
    "docgen kit 017 --due",
    "docgen kit 017 --job PRE",
)
@option.engines
@option.jobs
@option.due
@option.on
@option.language
@option.out()
@click.option("--no-cost", is_flag=True, help="Leave prices and cost out.")
@option.json
def command(
    session: Session, engines: tuple[str, ...], jobs: tuple[str, ...], only_due: bool, on: date, out: Path | None,
    no_cost: bool, as_json: bool,
) -> None:  # fmt: skip
    """Add up what the jobs of ENGINES (or all) need: those named with --job, or all that is due.

    Tools to lay out, materials in whole containers, spares needed for sure and spares to have at hand. What the shelf
    (stock.yaml) does not hold is short; the order is also written as a table for a spreadsheet.
    """
    folder = session.read()
    wanted = wanted_jobs(folder, engines, jobs, only_due, on)
    stock, problems = read_stock(folder)
    if problems:
        stop(problems)
    club = folder.club.value.model_copy(update={"currency": None}) if no_cost else folder.club.value
    resolved = [job for want in wanted for job in _jobs(folder, want, on)]
    kit = kit_of(resolved, club, stock.value if stock else None)
    if not kit.jobs:
        click.echo(f"Nothing is due on {on.isoformat()}: there is nothing to lay ready.")
        return
    if unpriced := without_price(kit, folder, stock):
        stop(unpriced)
    if as_json:
        say_json(to_json(kit))
        return
    counted = stock.value.counted if stock else None
    print_kit(folder, kit, on, out or folder.root / "out", _suffix(engines, jobs), counted)


def _jobs(folder: Folder, want: Wanted, on: date) -> list[Job]:
    """The job; where it gathers others, the visit with them."""
    if not want.procedure.value.gathers:
        return [resolve(folder, want.record, want.procedure, on, why_due=want.why)]
    found = visit(folder, want.record, in_one_visit(folder, want.record, [want.procedure]), on)
    return sheets(folder, want.record, found, on, {want.procedure.value.procedure: want.why})


def print_kit(folder: Folder, kit: Kit, on: date, out: Path, suffix: str, counted: date | None) -> None:
    """Print the kit list, and write the order beside it."""
    from docgen.cli._pages import Wish, print_pages
    from docgen.press.orders import plain_order
    from docgen.sheets.kitlist import kit_list

    page = kit_list(kit, on, counted)
    numbers = sorted({use.engine for use in kit.needs.uses})
    order = plain_order("Kit list", page, kit.club.club, on, ("kit", *numbers, record_mark(folder, numbers)))
    table = out / f"order{suffix}.csv"
    files = {table: order_csv(kit)} if kit.order else {}
    print_pages([Wish(order, out / f"kit{suffix}.pdf")], files)
    if kit.order:
        total = f", {kit.currency} {kit.total:.2f}" if kit.total is not None else ""
        click.echo(f"Order, {len(kit.order)} lines{total}: {shown(table)}")


_FORMULA = re.compile("((?:^|[;,\\t|])(?:[^\\S\\t]|[\"'])*)([=+@\\-\u2212\uff1d\uff0b\uff0d\uff20])")
"""The beginning of a cell that holds a formula, whatever ends a cell."""


def order_csv(kit: Kit) -> bytes:
    """The order as a table: comma-separated, UTF-8 with its mark, so that spreadsheets open it as it is."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(["part_number", "name", "pack", "count", "price", "cost", "currency", "for"])
    for line in kit.order:
        price, cost = (f"{value:.2f}" if value is not None else "" for value in (line.price, line.cost))
        uses = " ".join(f"{use.engine}-{use.code}" for use in line.uses)
        rows.writerow([_inert(line.number), _inert(line.name), line.pack, line.count, price, cost, kit.currency, uses])
    return text.getvalue().encode("utf-8-sig")


def _inert(text: str) -> str:
    """A text that a spreadsheet would take for a formula, made plain text.

    Also where it takes semicolons, tabs or bars for the ends of cells: what stands behind one begins a cell of its own.
    Full-width signs are taken for plain ones by some.

    >>> _inert("=1+1"), _inert("W-12; =1+1"), _inert("\\uff1d1"), _inert("W-12, left")
    ("'=1+1", "W-12; '=1+1", "'\uff1d1", 'W-12, left')
    """
    return _FORMULA.sub(r"\1'\2", text)


def _suffix(engines: tuple[str, ...], jobs: tuple[str, ...]) -> str:
    """What sets a list for some engines or jobs apart from that for all."""
    words = [*engines, *(job if job.isupper() else job.lower() for job in jobs)]
    return "".join(f"-{word}" for word in words)[:80]
