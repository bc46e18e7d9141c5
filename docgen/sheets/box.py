"""The layout mat of a parts box: one compartment a place, to lie under its lid or in its bottom."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.job import Instructions
from docgen.plan.laydown import Footprint, Laydown, Piece
from docgen.sheets.matpage import ORDER, Frame, hanging, mat_page, strip
from docgen.sheets.matpiece import Lying
from docgen.sheets.matplaces import Place
from docgen.sheets.page import PAPERS, Page
from docgen.sheets.scale import Scale

BOX = "P"
"""The sheet letter of a box's number."""
CLOSE = Scale(4.8)
"""A box is looked into from above: type for 450 mm (0.006 of the distance, as on the leaf, gives 4.0; larger)."""

WALL = 3.0
"""What the walls of a compartment take from its room, mm."""


class BoxError(ValueError):
    """The box cannot be drawn as asked; the message says why."""


@dataclass(frozen=True)
class Compartments:
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
    inside = [piece for piece in laid.pieces if piece not in again]
    pages: list[list[Place]] = [[] for _ in range(max(1, ceil(len(inside) / cells)))]
    for n, piece in enumerate(inside):
        row, column = divmod(n % cells, grid.columns)
        lying = _lying(piece, frame, width, height)
        pages[n // cells].append(Place(lying, column * width, row * height, width, height))
    count = len(pages)
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
