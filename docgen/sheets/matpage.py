"""The page that a mat and a box share: head, places, foot. And the layout mat of a parts box, one compartment a place,
to lie under its lid or in its bottom.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil
from typing import NamedTuple

from docgen.club.schema.club import Club
from docgen.club.words import Words, message
from docgen.job.job import Instructions
from docgen.job.number import SheetNumber
from docgen.job.wording import in_text
from docgen.plan.laydown import Footprint, Laydown, Piece
from docgen.sheets.composition import Head, head_of, page_of
from docgen.sheets.jinja import PRECEDENCE
from docgen.sheets.matpiece import PAD, Lying
from docgen.sheets.matplaces import MatPlace
from docgen.sheets.measure import Scale, lines_of
from docgen.sheets.page import PAPERS, Page, Paper
from docgen.sheets.signals import symbol

EDGE, FOOT, CODE = 8.0, 6.0, 17.0
"""Blank margin at the paper's edge, that under the foot, and the side of the code; mm."""
HOLDS_EVERY_PRINT = 0
"""A mat shows nothing of one print, so its number names none."""
BOX = "P"
"""The sheet letter of a box's number."""
CLOSE = Scale(4.8)
"""A box is looked into from above: type for 450 mm (0.006 of the distance, as on the leaf, gives 4.0; larger)."""

WALL = 3.0
"""What the walls of a compartment take from its room, mm."""
FOOT_LINES = 2.5
"""Lines of the foot, at least."""
ORDER = message("Lay each piece on its row’s number. Read backwards, it is the order of refitting.")


@dataclass(frozen=True)
class Frame:
    """What a mat is printed on, and the area left for its places: from ``top`` down, ``height`` high.

    scale : of its type
    order : the line above the places, which says how to use them
    """

    told: Instructions
    club: Club
    paper: Paper
    scale: Scale
    title: str
    letter: str
    words: Words
    order: str

    @cached_property
    def head(self) -> Head:
        """The head of each page."""
        told, w = self.told, self.words
        under = f"{self.title} · {told.model_title} · {told.code} {w('revision')} {told.revision}"
        plate, size, small = round(self.scale.step * 5.0, 2), self.scale.middle, self.scale.small
        room = self.width - CODE - 4
        return head_of(told.engine, told.title, under, room=room, plate=plate, size=size, small=small, least=CODE)

    @property
    def width(self) -> float:
        """The width of the places, and of head and foot."""
        return self.paper.width - 2 * EDGE

    @cached_property
    def top(self) -> float:
        """Where the places begin."""
        room = self.width / self.scale.small - 1.6  # beside the arrow
        lines = lines_of(self.order, room, bold=True)
        return EDGE + self.head.height + 1.5 + (1.2 * lines + 0.05) * self.scale.small + 1.5

    @cached_property
    def height(self) -> float:
        """Room for the places."""
        lines = max(FOOT_LINES, 1.5 + lines_of(self.words(PRECEDENCE), self.width / self.scale.small - 12.5))
        return self.paper.height - self.top - 1.5 - FOOT - lines * self.scale.small * 1.2


def mat_page(
    frame: Frame, laid: Laydown, pages: Sequence[Sequence[MatPlace]], turned: Sequence[str], notes: Sequence[str] = ()
) -> Page:
    """The finished page.

    turned : which of how many each page is; empty where it is the only one
    notes  : lines for the strip at the foot of the last, where there is room for what else comes off
    """
    told, w = frame.told, frame.words
    number = SheetNumber(told.engine, told.code, told.revision, HOLDS_EVERY_PRINT, frame.letter)
    printed = [number.on_page(n + 1).text for n in range(len(pages))]
    low = 1.5 + max((place.top + place.height for place in pages[-1]), default=0.0)
    return page_of(
        "mat", w, f"{frame.title}: {told.title}, {in_text(w('Engine'), w)} {told.engine}", number.body,
        qr={f"code-{n}": text for n, text in enumerate(printed, 1)}, frame=frame, paper=frame.paper, scale=frame.scale,
        edge=EDGE, under=FOOT, code=CODE, pad=PAD, arrow=symbol("arrow", w("arrow")), pages=pages, low=low,
        printed=printed, notes=(*notes, *hanging(laid, w)), turned=turned,
    )  # fmt: skip


def hanging(laid: Laydown, w: Words) -> tuple[str, ...]:
    """The line that names what is undone but stays where it is; none where nothing does."""
    return (f"{w('Undone, but stays where it hangs')}: {', '.join(laid.stays)}",) if laid.stays else ()


def strip(notes: Sequence[str], frame: Frame) -> float:
    """Height that the strip at the foot needs for its notes, and for one line more that a pen adds; mm."""
    size = frame.scale.small
    lines = sum(lines_of(note, (frame.width - 2 * PAD - 1.0) / size) for note in notes)
    return round(1.5 + 2.4 + 1.0 + 1.2 * size * (2 + lines), 2)


class BoxError(ValueError):
    """The box cannot be drawn as asked; the message says why."""


class Compartments(NamedTuple):
    """A box's grid. Without a size its compartments share the paper evenly; mm."""

    columns: int
    rows: int
    width: float | None = None
    height: float | None = None


def box(laid: Laydown, told: Instructions, club: Club, grid: Compartments) -> Page:
    """The box of a job: pieces fill the compartments in their order, row by row; what is too large is named below.

    Errors: BoxError when the box is larger than the paper, or a compartment too small for the words in it.
    """
    w = Words.speaking(told.tongue)
    frame = Frame(told, club, PAPERS[club.paper], CLOSE, w("Parts box"), BOX, w, w(ORDER))
    beside: list[Piece] = []
    high = strip(hanging(laid, w), frame)
    while True:  # the strip for what lies beside the box takes room from the compartments, which may then hold less
        width, height = _compartment(grid, frame, high)
        again = [piece for piece in laid.pieces if not _holds(piece, width, height)]
        named = "; ".join(f"{piece.mark} {piece.name}" for piece in again)
        note = f"{w('Too large for a compartment, lies beside the box:')} {named}" if again else ""
        needed = strip(((note,) if note else ()) + hanging(laid, w), frame)
        if again == beside or needed <= high:
            break
        beside, high = again, needed
    cells = grid.columns * grid.rows
    inside = [_lying(piece, frame, width, height) for piece in laid.pieces if piece not in again]
    count = max(1, ceil(len(inside) / cells))
    pages: list[list[MatPlace]] = [[] for _ in range(count)]
    for n, one in enumerate(inside):
        row, column = divmod(n % cells, grid.columns)
        pages[n // cells].append(MatPlace(one, column * width, row * height, width, height))
    turned = [w("Box {page} of {pages}", page=n, pages=count) if count > 1 else "" for n in range(1, count + 1)]
    return mat_page(frame, laid, pages, turned, (note,) if note else ())


def _compartment(grid: Compartments, frame: Frame, foot: float) -> tuple[float, float]:
    room, high = frame.width, frame.height - foot
    width, height = grid.width or room / grid.columns, grid.height or high / grid.rows
    if width * grid.columns > room + 0.01 or height * grid.rows > high + 0.01:
        raise BoxError(
            f"{grid.columns} by {grid.rows} compartments of {width:g} by {height:g} mm are larger than the"
            f" {room:.0f} by {high:.0f} mm that {frame.paper.name} leaves them: write fewer, or smaller ones"
        )
    return width, height


def _holds(piece: Piece, width: float, height: float) -> bool:
    """Whether a compartment is long and wide enough; a piece of unknown size is taken to be small."""
    if piece.footprint is None:
        return True
    low, high = sorted((piece.footprint.width, piece.footprint.height))
    return low + WALL <= min(width, height) and high + WALL <= max(width, height)


def _lying(piece: Piece, frame: Frame, width: float, height: float) -> Lying:
    known = piece if piece.footprint else replace(piece, footprint=Footprint("block", 0.0, 0.0))
    lying = Lying(known, frame.scale, frame.words, outlined=False)
    if lying.least > width + 0.01 or lying.text(width) > height + 0.01:
        wide = max(lying.least, width)
        raise BoxError(
            f"the words of {piece.name} need {wide:.0f} by {lying.text(wide):.0f} mm, and a compartment has"
            f" {width:.0f} by {height:.0f} mm: write fewer compartments"
        )
    return lying
