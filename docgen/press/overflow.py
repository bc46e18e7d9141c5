"""Faults of a laid-out page, found from its boxes before anything is drawn."""

from __future__ import annotations

from weasyprint.document import Document


def page_faults(document: Document) -> list[str]:
    """Every fault of every page, in reading order."""
    return []
