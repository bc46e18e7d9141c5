"""What to lay ready for jobs, as a list and an order; and several jobs of an engine as one strip-down."""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.folder import Faulty, Folder, Read
from docgen.club.problem import listing
from docgen.club.schema.sidefiles import Stock
from docgen.club.sidefiles import read_stock
from docgen.desk.choosing import Unclear, Unprinted, jobs_named
from docgen.desk.mat import flat, mat_wish
from docgen.desk.pages import Wish, wish
from docgen.desk.selection import Say, Wanted, wanted_jobs
from docgen.job.job import Job
from docgen.job.keywords import record_mark
from docgen.job.resolve import figures_of, resolve
from docgen.plan.kit import Kit, kit_of, without_price
from docgen.plan.laydown import laydown_of, without_size
from docgen.sheets.kitlist import kit_list
from docgen.visit.grouping import Visit, visit
from docgen.visit.job import CODE, in_one_visit, sheets


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
        listed = wish(folder, "Kit list", page, on, marks, out / f"kit{suffix}.pdf")
        return listed, {out / f"order{suffix}.csv": order_csv(self.kit)} if self.kit.order else {}


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


@dataclass(frozen=True)
class Joined:
    """The jobs joined, as many as can be, as the jobs that are printed: the visit, and those that stay apart."""

    folder: Folder
    found: Visit
    jobs: list[Job]
    on: date

    @property
    def suffix(self) -> str:
        """What sets its kit list apart."""
        return f"-{self.jobs[0].instructions.engine}-{CODE}"

    def kit(self) -> LaidReady:
        """What to lay ready for all of it. Errors: Faulty where the shelf has faults."""
        return ready_for(self.folder, self.jobs)

    def mat(self, out: Path) -> list[Wish]:
        """One mat for the visit; none where nothing comes off, or a piece's size is not stated."""
        instructions = self.jobs[0].instructions
        record = self.folder.engines[instructions.engine]
        laid = laydown_of(self.found.steps, figures_of(self.folder, record, self.on))
        if not laid.pieces or without_size(self.folder, instructions.model, laid):
            return []
        page, said = flat(self.folder.club.value)(laid, instructions)
        return [mat_wish(self.folder, instructions, page, said, self.on, out, "mat")]


def joined(folder: Folder, engine: str, jobs: Sequence[str], on: date, say: Say) -> Joined | None:
    """Join the jobs named, with what they gather, or all that is due; None where nothing is.

    say : told of the jobs that stay apart, and why
    Errors: Faulty, Unclear; Unprinted where proofing finds faults.
    """
    wanted = wanted_jobs(folder, [engine], _with_gathered(folder, engine, jobs), on, say=say)
    if faults := sorted({p for want in wanted for p in want.faults}):
        raise Unprinted([listing(faults)], "Mend the faults first.")
    if CODE in folder.codes:
        raise Unclear(f"{folder.codes[CODE]} has the code {CODE}, which a visit bears: give it another one")
    if not wanted:
        return None
    record = wanted[0].record
    found = visit(folder, record, in_one_visit(folder, record, [want.procedure for want in wanted]), on)
    for job, reason in found.apart:
        say(f"{job.value.title} is printed by itself: {reason}.")
    why = {want.procedure.value.procedure: want.why for want in wanted}
    return Joined(folder, found, sheets(folder, record, found, on, why), on)


def _with_gathered(folder: Folder, engine: str, jobs: Sequence[str]) -> Sequence[str]:
    """The jobs named, and what they gather for this engine's type."""
    record = folder.engines.get(engine)
    if record is None or record.engine.model not in folder.models:
        return jobs
    model = folder.models[record.engine.model].value
    named = [job.value for job in jobs_named(folder, jobs)]
    gathered = [name for job in named for name in job.gathers if folder.fits(name, model)]
    return list(dict.fromkeys((*(job.procedure for job in named), *gathered)))
