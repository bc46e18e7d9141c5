"""Labels on label sheets: what one says, type as large as its label allows, and the sheets from any position on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.sheets.composition import page_of
from docgen.sheets.labelgrid import LabelSheet
from docgen.sheets.measure import lines_of, longest_word, width
from docgen.sheets.page import PAPERS, Page
from docgen.sheets.signals import alert

LARGEST, LEAST, SMALL = 7.0, 3.0, 2.83
"""Size of a label's title at most and at least, and of its smallest type (8 points); mm."""
PAD, RIM = 2.2, 4.5
"""Blank inside a label's edge, and what a printer cannot reach at the paper's edge (common practice, no source); mm."""
BLANK, AMPLE = 7.0, 10.0
"""Height of a line to write on, at least and where there is room; mm."""


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
class Set:
    """A label in type of a size, with the width of its plate, the size of its banner, the height of its blanks; mm."""

    label: Label
    size: float
    plate: float
    banner: float
    blank: float = BLANK

    @property
    def head(self) -> float:
        """Height of its plate's figures, and of its mark."""
        return round(1.7 * self.size, 2)

    @property
    def small(self) -> float:
        """Size of its lines."""
        return round(max(SMALL, 0.72 * self.size), 2)


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
        size = LARGEST
        while size >= LEAST - 1e-9:
            made = _sized(tried, round(size, 2), room)
            if made is not None and (left := high - _height(made, room)) >= 0:
                more = left / len(label.blanks) if label.blanks else 0.0
                return replace(made, blank=round(min(AMPLE, BLANK + more), 2))
            size -= 0.1
    name = ": ".join(filter(None, (label.banner, label.title)))
    raise LabelError(
        f'"{name}" does not fit on a label of {sheet.width:g} by {sheet.height:g} mm:'
        " choose a sheet with larger labels"
    )


def _sized(label: Label, size: float, room: float) -> Set | None:
    """The parts of the head in a row; None where they are wider than the label."""
    made = Set(label, size, 0.0, 0.0)
    plate = round(width(label.plate, bold=True) * made.head * 0.9 + 3.0, 2) if label.plate else 0.0
    mark = width(label.mark, bold=True) * made.head * 1.03 if label.mark else 0.0
    banner = 0.0
    if label.banner:
        space = room - 3.0 - (1.9 * size if label.warns else 0.0)
        banner = round(min(1.5 * size, space / (width(label.banner, bold=True) * 1.04)), 2)
    fits = plate + mark + (2.0 if plate and mark else 0.0) <= room and (not label.banner or banner >= size)
    if not fits or longest_word(label.title, bold=True) * size * 1.03 > room:
        return None
    return replace(made, plate=plate, banner=banner)


def _height(made: Set, room: float) -> float:
    """Height that a label needs, mm."""
    label, size, small = made.label, made.size, made.small
    high = 1.5 * made.banner + 1.0 if label.banner else 0.0
    high += 1.25 * made.head + 0.8 if label.plate or label.mark else 0.0
    high += 1.18 * size * lines_of(label.title, room / size, bold=True) if label.title else 0.0
    high += sum(1.22 * small * lines_of(line, room / small) + 0.3 for line in label.lines)
    return high + BLANK * len(label.blanks) + 0.6
