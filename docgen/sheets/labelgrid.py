"""Label sheets as grids of equal labels: where each label lies on its sheet. Lengths are mm.

The shipped ones are a plain table, ``data/label_sheets.csv``; a club adds its own in ``labels.yaml``.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from importlib.resources import files

from docgen.club.schema.labels import Grid
from docgen.sheets.page import PAPERS
from docgen.trade.quantity import Quantity

SLACK = 0.05
"""By how much a grid may exceed the paper, from rounding."""
LEAST_WIDTH, LEAST_HEIGHT = 25.0, 12.0
"""A label smaller than this holds no words that can be read."""


@dataclass(frozen=True)
class LabelSheet:
    """One label sheet; ``across`` and ``down`` are from one label's edge to the same edge of the next."""

    name: str
    paper: str
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float

    @property
    def count(self) -> int:
        """How many labels are on it."""
        return self.columns * self.rows

    def place(self, position: int) -> tuple[float, float]:
        """Left and top edge of a label from the paper's corner; positions count from 1, row by row."""
        row, column = divmod(position - 1, self.columns)
        return round(self.left + column * self.across, 3), round(self.top + row * self.down, 3)


def shipped() -> dict[str, LabelSheet]:
    """The label sheets that come with the program."""
    text = (files("docgen.sheets") / "data" / "label_sheets.csv").read_text("utf-8")
    rows = (row[:-1] for row in csv.reader(text.splitlines()[1:]))
    return {
        name: LabelSheet(name, paper, int(columns), int(lines), *map(float, sizes))
        for name, paper, columns, lines, *sizes in rows
    }


def label_sheet(name: str, grid: Grid) -> LabelSheet:
    """A club's own label sheet."""

    def mm(size: Quantity) -> float:
        return float(size.to("mm").value)

    across, down = mm(grid.across or grid.width), mm(grid.down or grid.height)
    sizes = (mm(grid.width), mm(grid.height), mm(grid.left), mm(grid.top), across, down)
    return LabelSheet(name, grid.paper, grid.columns, grid.rows, *sizes)


def misfits(sheet: LabelSheet) -> list[tuple[str, str, str]]:
    """What is wrong with a grid: the key of its table, a name for the fault, and a sentence."""
    found = []
    if sheet.paper not in PAPERS:
        known = ", ".join(PAPERS)
        return [("paper", "unknown-paper", f'there is no paper called "{sheet.paper}"; known: {known}')]
    paper = PAPERS[sheet.paper]
    if not (1 <= sheet.columns <= 40 and 1 <= sheet.rows <= 60):
        at = "columns" if not 1 <= sheet.columns <= 40 else "rows"
        return [(at, "no-grid", "a sheet has 1 to 40 columns and 1 to 60 rows of labels")]
    if sheet.width < LEAST_WIDTH or sheet.height < LEAST_HEIGHT:
        at, least = ("width", LEAST_WIDTH) if sheet.width < LEAST_WIDTH else ("height", LEAST_HEIGHT)
        found.append((at, "label-too-small", f"a label that is less than {least:g} mm in {at} holds no words"))
    if sheet.across < sheet.width - SLACK and sheet.columns > 1:
        sentence = f"labels {sheet.width:g} mm wide cannot lie {sheet.across:g} mm apart"
        found.append(("across", "labels-overlap", sentence))
    if sheet.down < sheet.height - SLACK and sheet.rows > 1:
        found.append(("down", "labels-overlap", f"labels {sheet.height:g} mm high cannot lie {sheet.down:g} mm apart"))
    right = sheet.left + (sheet.columns - 1) * sheet.across + sheet.width
    foot = sheet.top + (sheet.rows - 1) * sheet.down + sheet.height
    if right > paper.width + SLACK:
        sentence = f"{sheet.columns} labels reach {right:.1f} mm across, and {paper.name} is {paper.width:g} mm wide"
        found.append(("columns", "grid-wider-than-page", sentence))
    if foot > paper.height + SLACK:
        sentence = f"{sheet.rows} labels reach {foot:.1f} mm down, and {paper.name} is {paper.height:g} mm high"
        found.append(("rows", "grid-higher-than-page", sentence))
    return found
