"""Sheets of paper.

Sources: A3 and A4 from ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass


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
        Paper("Letter", 215.9, 279.4),
    )
}
