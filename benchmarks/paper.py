"""How much paper each shipped job takes on each engine type it is for: faces of leaf and sign-off sheet, reading pages.

    python benchmarks/paper.py [--distance "600 mm"] [--jobs CLU CAR]

Blank is the share of 5 mm squares of the leaf's bodies (between head and foot) that bear no ink, from the pages as
poppler draws them. A job that gathers others (pre-season) is the visit with them on an engine. The last line sums up,
the three largest jobs (pre-season, top end, bottom end) apart; "due" is all that is due at the demo on its day.
"""

from __future__ import annotations

import argparse
import re
import statistics
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from docgen.club.folder import Folder, Read
from docgen.club.read import read_club
from docgen.club.schema.procedure import Procedure
from docgen.club.uses import applies
from docgen.job.blank import blank_job
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.plan.due import DUE, OVERDUE, due_list
from docgen.press.meta import Order
from docgen.press.orders import order
from docgen.press.workers import press_all
from docgen.sheets.leaf import leaf
from docgen.sheets.page import Page
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff
from docgen.trade.quantity import parse_quantity
from docgen.visit.grouping import visit
from docgen.visit.job import in_one_visit, visit_job

ROOT = Path(__file__).resolve().parents[1]
ON = date(2027, 2, 20)
LARGE = ("PRE", "TOP", "BOT")
DPI, SQUARE = 50, 5.0


@dataclass(frozen=True)
class Row:
    """What one job takes on one engine type; ``blank`` in per cent."""

    code: str
    model: str
    leaf: int
    reading: int
    signoff: int
    ticks: int
    blank: float


def blank_share(pdf: bytes, page: Page) -> float:
    """Per cent of 5 mm squares without ink in the bodies of all faces."""
    assert page.body is not None
    done = subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", "-"], input=pdf, capture_output=True, check=True)
    empty = total = 0
    for number, pixels in enumerate(_pages(done.stdout)):
        top, height = page.body.first if number == 0 else page.body.others
        dot = DPI / 25.4
        body = pixels[int(top * dot) : int((top + height) * dot), int(page.body.left * dot) :]
        body = body[:, : int(page.body.width * dot)]
        side = SQUARE * dot
        for y in np.arange(0, body.shape[0] - side, side):
            for x in np.arange(0, body.shape[1] - side, side):
                total += 1
                empty += int(np.all(body[int(y) : int(y + side), int(x) : int(x + side)] > 200))
    return 100 * empty / total


def _pages(data: bytes) -> Iterator[np.ndarray]:
    """The pages of a run of PGM pictures (P5: width, height, 255, then a byte a dot)."""
    at = 0
    while at < len(data):
        head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data[at : at + 40])
        assert head, "poppler gave no PGM"
        width, height = int(head[1]), int(head[2])
        start = at + head.end()
        yield np.frombuffer(data, np.uint8, width * height, start).reshape(height, width)
        at = start + width * height


def pages_of(job: Job, folder: Folder, distance: str) -> dict[str, tuple[Page, Order]]:
    """The three papers of a job, ready for the press."""
    club = folder.club.value.model_copy(update={"bench_distance": parse_quantity(distance)})
    made = {"leaf": leaf(job, club), "reading": reading(job, club), "sign-off": signoff(job, club)}
    return {name: (page, order(name, page, job, club.club, forms=name == "sign-off")) for name, page in made.items()}


def visit_of(folder: Folder, model: str, read: Read[Procedure], distance: str) -> dict[str, tuple[Page, Order]]:
    """Leaf and sign-off sheet of a job that gathers others, on the first engine of the type; its reading is its own,
    as that of each job that it gathers."""
    record = next(one for _, one in sorted(folder.engines.items()) if one.engine.model == model)
    found = visit(folder, record, in_one_visit(folder, record, [read]), ON)
    assert not found.apart
    made = pages_of(visit_job(folder, record, found, ON), folder, distance)
    return {name: made[name] for name in ("leaf", "sign-off")}


def measured(folder: Folder, distance: str, only: list[str]) -> Iterator[Row]:
    """Each job on each engine type."""
    for read in sorted(folder.procedures.values(), key=lambda one: one.value.code):
        if only and read.value.code not in only:
            continue
        for model in sorted(folder.models):
            if not applies(read.value, folder.models[model].value):
                continue
            made = pages_of(blank_job(folder, model, read, ON), folder, distance)
            if read.value.gathers:
                made |= visit_of(folder, model, read, distance)
            outcomes = press_all([one for _, one in made.values()])
            done = {one.key: one.pressed for one in outcomes}
            faults = [fault for one in outcomes for fault in one.faults]
            if faults:
                print(f"{read.value.code} {model}: not printed: {faults[0]}")
                continue
            page, ready = made["leaf"][0], done["leaf"]
            assert ready is not None
            ticks = len(re.findall(r'type="checkbox"', made["sign-off"][0].html))
            counts = {name: one.pages for name, one in done.items() if one is not None}
            blank = blank_share(ready.pdf, page)
            yield Row(read.value.code, model, counts["leaf"], counts["reading"], counts["sign-off"], ticks, blank)


def due(folder: Folder) -> tuple[int, int]:
    """Sheets and faces of all that is due at the demo."""
    club, orders = folder.club.value, []
    for line in due_list(folder, ON):
        if line.job and line.state in (DUE, OVERDUE):
            job = resolve(folder, folder.engines[line.engine], folder.procedures[line.job], ON)
            for name, page in (("leaf", leaf(job, club)), ("sign-off", signoff(job, club))):
                orders.append(order(f"{line.engine} {line.job} {name}", page, job, club.club, forms=name == "sign-off"))
    outcomes = press_all(orders)
    return len(outcomes), sum(one.pressed.pages for one in outcomes if one.pressed)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--distance", default="600 mm")
    parser.add_argument("--jobs", nargs="*", default=[])
    wanted = parser.parse_args()
    folder = read_club(ROOT)
    rows = []
    print(f"{'job':<5}{'engine type':<14}{'leaf':>5}{'reading':>9}{'sign-off':>10}{'ticks':>7}{'blank':>8}")
    for row in measured(folder, wanted.distance, wanted.jobs):
        rows.append(row)
        print(
            f"{row.code:<5}{row.model:<14}{row.leaf:>5}{row.reading:>9}{row.signoff:>10}{row.ticks:>7}{row.blank:>7.0f}%"
        )
    some = [row for row in rows if row.code not in LARGE] or rows
    sheets, faces = (0, 0) if wanted.jobs else due(folder)

    def both(values: list[int]) -> str:
        return f"median {statistics.median(values):g}, most {max(values)}"

    print(
        f"jobs: {len(rows)}; leaf faces: {both([row.leaf for row in some])}; "
        f"reading pages: {both([row.reading for row in some])}; sign-off faces: {both([row.signoff for row in some])}; "
        f"sign-off boxes: most {max(row.ticks for row in some)}; "
        f"blank: {statistics.mean(row.blank for row in some):.0f} %; due: {sheets} sheets on {faces} faces"
    )


if __name__ == "__main__":
    main()
