"""Sheets of paper and the part of them that may be printed on.

Sources: A3, A4 and A5 from ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

CLIP = 30.0
"""Blank strip at the top of a bench checklist, mm: the bench clip covers it. Common practice, no source."""


RIM = 6.0
"""What a laminating pouch needs of a leaf that is cut and laminated, mm: its sealed rim is 2 to 3 mm wide on each side
(measured pouches, A4 pouch 216 by 303 mm, from memory), and a leaf never lies quite straight in it."""


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
    for paper in (
        Paper("A3", 297.0, 420.0),
        Paper("A4", 210.0, 297.0),
        Paper("A5", 148.0, 210.0),
        Paper("Letter", 215.9, 279.4),
    )
}
