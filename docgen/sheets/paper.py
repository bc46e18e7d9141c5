"""Sheets of paper and the part of them that may be printed on.

Sources: A3 and A4 from ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory). A5 is cut from A4 here, and
so half a millimetre wider than the 148 of ISO 216; Half-Letter is cut from Letter.
"""

from __future__ import annotations

from dataclasses import dataclass

CLIP, SMALL_CLIP = 30.0, 22.0
"""Blank strip at the top of a bench checklist, mm: the bench clip covers it. Common practice, no source."""
SIDE = 12.0
"""Blank margin of a bench checklist left and right, mm."""
RIM = 6.0
"""What a laminating pouch needs of a leaf that is cut and laminated, mm: its sealed rim is 2 to 3 mm wide on each side
(from memory), and a leaf never lies quite straight in it: nothing is printed there but cut marks."""


@dataclass(frozen=True)
class Paper:
    """A sheet; sizes in mm. ``of`` names the paper that two of it are cut from.

    clip, side : what a bench checklist leaves blank at the top, and left and right
    """

    name: str
    width: float
    height: float
    of: str = ""
    clip: float = CLIP
    side: float = SIDE

    @property
    def across(self) -> Paper:
        """The same sheet lying on its long side."""
        return Paper(self.name, max(self.width, self.height), min(self.width, self.height))


PAPERS = {
    paper.name: paper
    for paper in (
        Paper("A3", 297.0, 420.0),
        Paper("A4", 210.0, 297.0),
        Paper("A5", 148.5, 210.0, "A4", SMALL_CLIP, RIM + 2),
        Paper("Letter", 215.9, 279.4),
        Paper("Half-Letter", 139.7, 215.9, "Letter", SMALL_CLIP, RIM + 2),
    )
}
