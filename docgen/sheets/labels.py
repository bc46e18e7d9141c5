"""Labels on label sheets: the sheets' grids, what a label says, type as large as it allows, from any position on.

The shipped sheets are a plain table, ``data/label_sheets.csv``; a club adds its own in ``labels.yaml``. Lengths are mm.
"""

import csv
from collections.abc import Sequence
from dataclasses import dataclass, replace
from importlib.resources import files

from docgen.club.schema.club import Club
from docgen.club.schema.sidefiles import Grid
from docgen.club.words import Words
from docgen.sheets.composition import page_of
from docgen.sheets.measure import lines_of, longest_word
from docgen.sheets.measure import width as measured
from docgen.sheets.page import PAPERS, Page
from docgen.sheets.signals import alert
from docgen.trade.quantity import Quantity

SLACK = 0.05
"""By how much a grid may exceed the paper, from rounding."""
_WAYS = (
    ("columns", 40, "width", 25.0, "left", "across", "wide", "wider"),
    ("rows", 60, "height", 12.0, "top", "down", "high", "higher"),
)
"""Each way of a grid: its lines and how many at most; a label's size, smaller than which it holds no words that can be
read; where the first begins and how far the next is; and words."""
LARGEST, LEAST, SMALL = 7.0, 3.0, 2.83
"""Size of a label's title at most and at least, and of its smallest type (8 points)."""
PAD, RIM = 2.2, 4.5
"""Blank inside a label's edge, and what a printer cannot reach at the paper's edge (common practice, no source)."""
BLANK, AMPLE = 7.0, 10.0
"""Height of a line to write on, at least and where there is room."""


class LabelError(ValueError):
    """A label that its sheet cannot hold; the message says which."""


@dataclass(frozen=True)
class Label:
    """What one label says.

    plate  : the engine's number, white on black; empty where it belongs to none
    mark   : large beside it: the step that the piece came off in
    banner : white on black over the whole width; ``warns`` sets the safety-alert symbol before it
    lines  : smaller lines under the title; ``more`` may be left out where the label is small, from the end
    blanks : what is to be written by hand, each with its label
    """

    title: str
    plate: str = ""
    mark: str = ""
    banner: str = ""
    warns: bool = False
    lines: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()


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
    if sheet.paper not in PAPERS:
        known = ", ".join(PAPERS)
        return [("paper", "unknown-paper", f'there is no paper called "{sheet.paper}"; known: {known}')]
    paper, found = PAPERS[sheet.paper], []
    for line, most, across, least, first, step, side, more in _WAYS:
        count, size, apart = (getattr(sheet, key) for key in (line, across, step))
        if not 1 <= count <= most:
            return [(line, "no-grid", "a sheet has 1 to 40 columns and 1 to 60 rows of labels")]
        if size < least:
            sentence = f"a label that is less than {least:g} mm in {across} holds no words"
            found.append((across, "label-too-small", sentence))
        if apart < size - SLACK and count > 1:
            found.append((step, "labels-overlap", f"labels {size:g} mm {side} cannot lie {apart:g} mm apart"))
        reach, room = getattr(sheet, first) + (count - 1) * apart + size, getattr(paper, across)
        if reach > room + SLACK:
            sentence = f"{count} labels reach {reach:.1f} mm {step}, and {paper.name} is {room:g} mm {side}"
            found.append((line, f"grid-{more}-than-page", sentence))
    return found


class Set:
    """A label in type of a size, on a width; mm.

    head, plate : height of its plate's figures, and of its mark; width of the plate
    small       : size of its lines
    banner      : size of its banner
    height      : that the label needs
    blank       : height of each of its blanks
    fits        : whether the parts of its head stand in a row, and no word of its title is wider than the label
    """

    def __init__(self, label: Label, size: float, room: float) -> None:
        self.label, self.size, self.blank = label, size, BLANK
        self.head, small = round(1.7 * size, 2), round(max(SMALL, 0.72 * size), 2)
        self.small = small
        plate = measured(label.plate, bold=True)
        self.plate = round(plate * self.head * 0.9 + 3.0, 2) if plate else 0.0
        ems = measured(label.banner, bold=True) * 1.04
        space = room - 3.0 - (1.9 * size if label.warns else 0.0)
        self.banner = round(min(1.5 * size, space / ems), 2) if ems else 0.0

        mark = measured(label.mark, bold=True) * self.head * 1.03
        head = self.plate + mark + (2.0 if self.plate and mark else 0.0)
        title = longest_word(label.title, bold=True) * size * 1.03
        self.fits = max(head, title) <= room and (not label.banner or self.banner >= size)

        high = 1.5 * self.banner + 1.0 if label.banner else 0.0
        high += 1.25 * self.head + 0.8 if label.plate or label.mark else 0.0
        high += 1.18 * size * lines_of(label.title, room / size, bold=True) if label.title else 0.0
        high += sum(1.22 * small * lines_of(line, room / small) + 0.3 for line in label.lines)
        self.height = high + BLANK * len(label.blanks) + 0.6


def labels_page(
    labels: Sequence[Label], sheet: LabelSheet, start: int, club: Club, title: str, *, outline: bool = False,
) -> Page:  # fmt: skip
    """The sheets of labels, the first at position `start` of a part-used sheet.

    outline : hairlines round the labels, for a trial on plain paper that is held against the label sheet
    Errors: LabelError when a position or a label does not fit.
    """
    w = Words.speaking(club.language)
    if not 1 <= start <= sheet.count:
        raise LabelError(f"a sheet of {sheet.name} has positions 1 to {sheet.count}: {start} is not one of them")
    pads = {at: _pads(sheet, at) for at in range(1, sheet.count + 1)}
    room = sheet.width - max(one[0] + one[2] for one in pads.values())  # all labels of a sheet are set alike
    high = sheet.height - max(one[1] + one[3] for one in pads.values())
    placed = [(_set(label, sheet, room, high), n % sheet.count + 1) for n, label in enumerate(labels, start - 1)]
    rest = sheet.count - start + 1
    pages = [placed[:rest], *(placed[n : n + sheet.count] for n in range(rest, len(placed), sheet.count))]
    return page_of(
        "labels", w, title, f"LABELS-{sheet.name.upper()}-{start}", subject=f"{w('Labels')} {sheet.name}", club=club,
        title=title, sheet=sheet, paper=PAPERS[sheet.paper], pages=pages, pads=pads, outline=outline,
        sign=alert("#fff", "#000", w("safety alert symbol")),
    )  # fmt: skip


def _pads(sheet: LabelSheet, position: int) -> tuple[float, ...]:
    """Blank inside the left, upper, right and lower edge of a label, which the printer or the die needs; mm."""
    (left, top), paper = sheet.place(position), PAPERS[sheet.paper]
    edges = (left, top, paper.width - left - sheet.width, paper.height - top - sheet.height)
    return tuple(max(PAD, round(RIM - edge, 2)) for edge in edges)


def _set(label: Label, sheet: LabelSheet, room: float, high: float) -> Set:
    """The label in the largest type that fits; lines that may be left out go where even the least does not."""
    for kept in range(len(label.more), -1, -1):
        tried = replace(label, lines=(*label.lines, *label.more[:kept]), more=())
        for tenths in range(round(10 * LARGEST), round(10 * LEAST) - 1, -1):
            made = Set(tried, tenths / 10, room)
            if made.fits and (left := high - made.height) >= 0:
                more = left / len(label.blanks) if label.blanks else 0.0
                made.blank = round(min(AMPLE, BLANK + more), 2)
                return made
    name = ": ".join(filter(None, (label.banner, label.title)))
    raise LabelError(
        f'"{name}" does not fit on a label of {sheet.width:g} by {sheet.height:g} mm:'
        " choose a sheet with larger labels"
    )
