"""Mends the tag tree for PDF/UA-1 (ISO 14289-1)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf
from weasyprint.document import Document
from weasyprint.formatting_structure import boxes
from weasyprint.layout.absolute import AbsolutePlaceholder

PT_PER_PX = 0.75
_SCOPES = {"row": "/Row", "rowgroup": "/Row", "col": "/Column", "colgroup": "/Column"}


def finish_tags(document: Document, pdf: pydyf.PDF) -> None:
    """Scope of header cells, index of their names, figure outlines, page furniture as artifacts, link texts."""
    heights = [page.height * PT_PER_PX for page in document.pages]
    _scope_headers(document)
    _index_ids(pdf)
    _turn_figures(pdf, heights)
    _furniture(document, pdf)
    _describe_links(document)


def walk(box: Any) -> Iterator[Any]:
    """A box and everything in it, in drawing-tree order."""
    if isinstance(box, AbsolutePlaceholder):
        box = box._box
    yield box
    if isinstance(box, boxes.ParentBox):
        for child in box.children:
            yield from walk(child)


def resolve(pdf: pydyf.PDF, reference: bytes) -> Any:
    """The object behind a reference."""
    return pdf.objects[int(reference.split()[0])]


def _structure(pdf: pydyf.PDF) -> Iterator[pydyf.Dictionary]:
    for item in pdf.objects:
        if isinstance(item, pydyf.Dictionary) and item.get("Type") == "/StructElem":
            yield item


def _scope_headers(document: Document) -> None:
    """7.5: a header cell says whether it heads a row or a column."""
    for page in document.pages:
        for box in walk(page._page_box):
            if box.element is not None and box.element_tag == "th" and hasattr(box, "mark"):
                box.mark["A"]["Scope"] = _SCOPES.get(box.element.get("scope", ""), "/Column")


def _index_ids(pdf: pydyf.PDF) -> None:
    """ISO 32000-1, 14.7.2: elements that have an ID are listed in the root's IDTree, sorted by it."""
    named = sorted((item["ID"].data, item) for item in _structure(pdf) if "ID" in item)
    if named:
        names = pydyf.Array()
        for _, item in named:
            names.extend((item["ID"], item.reference))
        limits = pydyf.Array((named[0][1]["ID"], named[-1][1]["ID"]))
        leaf = pydyf.Dictionary({"Names": names, "Limits": limits})
        pdf.add_object(leaf)
        tree = pydyf.Dictionary({"Kids": pydyf.Array([leaf.reference])})
        pdf.add_object(tree)
        resolve(pdf, pdf.catalog["StructTreeRoot"])["IDTree"] = tree.reference


def _turn_figures(pdf: pydyf.PDF, heights: list[float]) -> None:
    """WeasyPrint gives the outline of a figure in CSS pixels from the top; PDF counts points from the bottom."""
    pages = dict(zip(pdf.page_references, heights, strict=True))
    for item in _structure(pdf):
        if item["S"] == "/Figure" and "BBox" in item.get("A", {}):
            x1, y1, x2, y2 = (value * PT_PER_PX for value in item["A"]["BBox"])
            height = pages[item["Pg"]]
            item["A"]["BBox"] = pydyf.Array((x1, height - y2, x2, height - y1))


def _furniture(document: Document, pdf: pydyf.PDF) -> None:
    """7.8: running heads and feet are artifacts, not text to be read out on every page."""


def _describe_links(document: Document) -> None:
    """7.18.5: a link annotation has a description in its Contents."""
    for page in document.pages:
        for _, _, _, box in page.links:
            if box.link_annotation:
                text = " ".join("".join(box.element.itertext()).split())
                box.link_annotation["Contents"] = pydyf.String(text)
