"""A page ready for the press: its HTML, its CSS, and what they name; and the sheets of paper that it is printed on.

What tells one printed page from another, its number, "page x of y" and its QR codes, the press asks for once it knows
how many faces a sheet takes. A template names the places of the two texts by ``data-face`` ("number" and "of"), in a
furniture of their own.

Sources: A3 and A4 from ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from docgen.job.number import MOST_PAGES, SheetNumber


@dataclass(frozen=True)
class Paper:
    """A sheet; sizes in mm."""

    name: str
    width: float
    height: float

    @property
    def across(self) -> Paper:
        """The same sheet lying on its long side."""
        return Paper(self.name, max(self.width, self.height), min(self.width, self.height))


PAPERS = {
    paper.name: paper
    for paper in (Paper("A3", 297.0, 420.0), Paper("A4", 210.0, 297.0), Paper("Letter", 215.9, 279.4))
}


@dataclass(frozen=True)
class Body:
    """Where the blocks of a page stand on each of its faces; mm.

    left, width : of the body
    first       : distance of its top from the paper's, and its height, on the first face
    others      : the same on all others
    columns     : how many a run of blocks in columns has; ``gap`` lies between them
    stretch     : the most that may be put between two blocks so that a column is filled
    even        : whether all faces are filled alike
    """

    left: float
    width: float
    first: tuple[float, float]
    others: tuple[float, float]
    columns: int = 2
    gap: float = 4.0
    stretch: float = 0.0
    even: bool = False

    @property
    def column(self) -> float:
        """The width of a column."""
        return (self.width - self.gap * (self.columns - 1)) / self.columns


@dataclass(frozen=True)
class Place:
    """Where a page's code stands on the paper, and how large it is without its quiet zone; mm."""

    left: float
    top: float
    size: float


@dataclass(frozen=True)
class Numbers:
    """The numbers of a sheet's faces.

    of            : "page {face} of {faces}" in the sheet's language
    places, first : where the codes stand on a face, and on the first one, if elsewhere
    most          : how many faces can be numbered
    behind        : what the codes say behind the number
    """

    number: SheetNumber
    of: str
    places: tuple[Place, ...]
    first: tuple[Place, ...] = ()
    most: int = MOST_PAGES
    behind: str = ""

    def texts(self, face: int, faces: int) -> dict[str, str]:
        """What stands at each ``data-face`` of a face, from 1."""
        return {"number": self.number.on_page(face).text, "of": self.of.format(face=face, faces=faces)}

    def codes(self, face: int) -> tuple[tuple[str, Place], ...]:
        """The text and place of each code on a face, from 1."""
        text = f"{self.number.on_page(face).text} {self.behind}".rstrip()
        return tuple((text, place) for place in (self.first if self.first and face == 1 else self.places))


@dataclass(frozen=True)
class Page:
    """One sheet, as many printed pages as it needs.

    The CSS names pictures as ``asset:NAME``: ``drawings`` holds those drawn here, as SVG; ``codes`` those
    that the press draws, as the text of a QR code. ``identifier`` names the print, in plain ASCII.

    With a ``body``, the children of the HTML's body are blocks that the press lays out once and places on faces:
    ``data-columns`` says that one stands in columns, ``data-with-next`` that it stays with the next, ``data-early``
    that a new face is welcome before it, ``data-grow`` by how many mm it may grow into what is left,
    ``data-spare`` how welcome it is where there is room (1: most), ``data-top`` that it is wanted at the top of a face
    only, ``data-furniture`` that it is a running head or foot. ``faces`` is the CSS of the faces, where ``css`` is that
    of blocks and furniture; a block may look at the one before it (``.one + .other``), and no further. ``numbers`` are
    their numbers and codes. ``data-value``, as the last attribute of an element that holds text alone, says that this
    text is a value: another may be filled in without another layout.
    """

    html: str
    css: str
    title: str
    subject: str
    identifier: str
    language: str
    drawings: Mapping[str, str] = field(default_factory=dict)
    codes: Mapping[str, str] = field(default_factory=dict)
    body: Body | None = None
    faces: str = ""
    numbers: Numbers | None = None
