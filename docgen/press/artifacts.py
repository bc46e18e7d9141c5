"""Content that is not to be read out: running heads and feet, ornaments (ISO 14289-1, 7.1 and 7.8).

WeasyPrint marks it like any other content, builds tags for it, and leaves those tags out of the tree. Here the marks
become artifacts and the loose tags go.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf

from docgen.press.objects import ORNAMENT, resolve, structure


def hide_furniture(pdf: pydyf.PDF) -> None:
    """Turn loose tags and ornaments into artifacts."""
    root = resolve(pdf, pdf.catalog["StructTreeRoot"])
    _cut_ornaments(pdf)
    linked = set(_linked(pdf, root["K"][0]))
    loose = [item for item in structure(pdf) if item.number not in linked]
    numbers: dict[bytes, set[int]] = {}
    for item in loose:
        numbers.setdefault(item["Pg"], set()).update(kid for kid in item["K"] if isinstance(kid, int))
        item.clear()  # the number stays: the PDF writer miscounts freed objects
    parents = resolve(pdf, root["ParentTree"])["Nums"]
    for reference, mcids in numbers.items():
        page = resolve(pdf, reference)
        _unmark(resolve(pdf, page["Contents"]), mcids)
        owners = parents[2 * page["StructParents"] + 1]
        for mcid in mcids:
            owners[mcid] = "null"


def _cut_ornaments(pdf: pydyf.PDF) -> None:
    for item in list(structure(pdf)):
        alt = item.get("Alt")
        if alt is not None and alt.string == ORNAMENT:
            kids = resolve(pdf, item["P"])["K"]
            if item.reference in kids:
                kids.remove(item.reference)


def _linked(pdf: pydyf.PDF, reference: bytes) -> Iterator[int]:
    item: Any = resolve(pdf, reference)
    yield item.number
    for kid in item.get("K", ()):
        if isinstance(kid, bytes):
            yield from _linked(pdf, kid)


def _unmark(stream: pydyf.Stream, mcids: set[int]) -> None:
    """Make artifacts of these marked contents of a page."""
    tokens = stream.stream
    for at, token in enumerate(tokens):
        if isinstance(token, pydyf.Dictionary) and token.get("MCID") in mcids:
            tokens[at - 1] = "/Artifact"
            tokens[at] = pydyf.Dictionary({"Type": "/Pagination"})
