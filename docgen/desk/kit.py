"""What to lay ready for jobs, as a list to print and an order as a table."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.folder import Faulty, Folder, Read
from docgen.club.schema.stock import Stock
from docgen.club.stock import read_stock
from docgen.desk.pages import Wish
from docgen.desk.wanted import Wanted
from docgen.job.job import Job
from docgen.job.keywords import record_mark
from docgen.job.resolve import resolve
from docgen.plan.kit import Kit, kit_of, without_price
from docgen.press.orders import plain_order
from docgen.sheets.kitlist import kit_list
from docgen.visit.job import in_one_visit, sheets
from docgen.visit.together import visit


@dataclass(frozen=True)
class LaidReady:
    """A kit, and the shelf that it was held against; None where nobody counted one."""

    kit: Kit
    stock: Read[Stock] | None

    def page(self, folder: Folder, on: date, out: Path, suffix: str) -> tuple[Wish, dict[Path, bytes]]:
        """The kit list, and the order beside it, by its file: nothing where nothing is short."""
        page = kit_list(self.kit, on, self.stock.value.counted if self.stock else None)
        numbers = sorted({use.engine for use in self.kit.needs.uses})
        marks = ("kit", *numbers, record_mark(folder, numbers))
        wish = Wish(plain_order("Kit list", page, self.kit.club.club, on, marks), out / f"kit{suffix}.pdf")
        return wish, {out / f"order{suffix}.csv": order_csv(self.kit)} if self.kit.order else {}


def kit_for(folder: Folder, wanted: Sequence[Wanted], on: date, *, costs: bool = True) -> LaidReady:
    """The kit of jobs; of one that gathers others, of the visit with them.

    costs : whether what it costs is added up
    Errors: Faulty where the shelf has faults, or a price is missing.
    """
    found = ready_for(folder, [job for want in wanted for job in _jobs(folder, want, on)], costs=costs)
    if found.kit.jobs and (unpriced := without_price(found.kit, folder, found.stock)):
        raise Faulty(unpriced)
    return found


def ready_for(folder: Folder, jobs: Sequence[Job], *, costs: bool = True) -> LaidReady:
    """The kit of jobs that are made already. Errors: Faulty where the shelf has faults."""
    stock, problems = read_stock(folder)
    if problems:
        raise Faulty(problems)
    club = folder.club.value if costs else folder.club.value.model_copy(update={"currency": None})
    return LaidReady(kit_of(jobs, club, stock.value if stock else None), stock)


def _jobs(folder: Folder, want: Wanted, on: date) -> Iterator[Job]:
    if not want.procedure.value.gathers:
        yield resolve(folder, want.record, want.procedure, on, why_due=want.why)
        return
    found = visit(folder, want.record, in_one_visit(folder, want.record, [want.procedure]), on)
    yield from sheets(folder, want.record, found, on, {want.procedure.value.procedure: want.why})


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
