"""What tells one printed page of a sheet from another: its number, "page x of y", and its QR codes.

The press asks for them once it knows how many faces a sheet takes. A template names the places of the two texts by
``data-face`` ("number" and "of"), in a furniture of their own.
"""

from __future__ import annotations

from dataclasses import dataclass

from docgen.job.number import MOST_PAGES, SheetNumber


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
    places, first : where the codes stand on a face, and on the first one
    most          : how many faces can be numbered
    behind        : what the codes say behind the number
    """

    number: SheetNumber
    of: str
    places: tuple[Place, ...]
    first: tuple[Place, ...]
    most: int
    behind: str = ""

    def texts(self, face: int, faces: int) -> dict[str, str]:
        """What stands at each ``data-face`` of a face, from 1."""
        return {"number": self.number.on_page(face).text, "of": self.of.format(face=face, faces=faces)}

    def codes(self, face: int) -> tuple[tuple[str, Place], ...]:
        """The text and place of each code on a face, from 1."""
        text = f"{self.number.on_page(face).text} {self.behind}".rstrip()
        return tuple((text, place) for place in (self.first if face == 1 else self.places))


def numbers_of(
    number: SheetNumber, of: str, places: tuple[Place, ...], first: tuple[Place, ...] | None = None, behind: str = ""
) -> Numbers:
    """The numbers of a sheet; ``first`` says where the codes stand on the first face, if elsewhere."""
    return Numbers(number, of, places, places if first is None else first, MOST_PAGES, behind)
