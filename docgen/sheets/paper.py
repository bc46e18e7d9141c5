"""Sheets of paper and the part of them that may be printed on.

Sources: A4 from ISO 216; Letter is 8.5 by 11 inches (ANSI/ASME Y14.1, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

CLIP = 30.0
"""Blank strip at the top of a bench checklist, mm: the bench clip covers it. Common practice, no source."""


@dataclass(frozen=True)
class Paper:
    """A sheet, upright; sizes in mm."""

    name: str
    width: float
    height: float


PAPERS = {paper.name: paper for paper in (Paper("A4", 210.0, 297.0), Paper("Letter", 215.9, 279.4))}
