"""Small helpers for the objects of a PDF in the making."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf

PT_PER_PX = 0.75
PT_PER_MM = 72 / 25.4
PRINT_FIELD = "docgen-print"  # the hidden field that names the print
KIND = "XXKind"  # ISO 32000-1, Annex E: names that begin with XX are free for private use
ORNAMENT = "docgen:ornament"  # alternative text that stands for: nothing to read out here


def resolve(pdf: pydyf.PDF, reference: bytes) -> Any:
    """The object behind a reference."""
    return pdf.objects[int(reference.split()[0])]


def structure(pdf: pydyf.PDF) -> Iterator[pydyf.Dictionary]:
    """Every element of the tag tree, linked to it or not."""
    for item in pdf.objects:
        if isinstance(item, pydyf.Dictionary) and item.get("Type") == "/StructElem":
            yield item
