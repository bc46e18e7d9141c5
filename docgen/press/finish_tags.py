"""Mends the tag tree for PDF/UA-1 (ISO 14289-1)."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf
from weasyprint.document import Document
from weasyprint.formatting_structure import boxes
from weasyprint.layout.absolute import AbsolutePlaceholder

from docgen.press.artifacts import hide_furniture
from docgen.press.objects import PT_PER_PX, resolve, structure

_SCOPES = {"row": "/Row", "rowgroup": "/Row", "col": "/Column", "colgroup": "/Column"}


def finish_tags(document: Document, pdf: pydyf.PDF) -> None:
    """Scope of header cells, languages, bodies of list items, figure outlines, furniture as artifacts, link texts."""
    heights = [page.height * PT_PER_PX for page in document.pages]
    _scope_headers(document)
    _say_languages(document, pdf)
    _plain_scopes(pdf)
    _list_bodies(pdf)
    _turn_figures(pdf, heights)
    hide_furniture(pdf)
    _describe_links(document)


def walk(box: Any) -> Iterator[Any]:
    """A box and everything in it, in drawing-tree order."""
    if isinstance(box, AbsolutePlaceholder):
        box = box._box
    yield box
    if isinstance(box, boxes.ParentBox):
        for child in box.children:
            yield from walk(child)


def _scope_headers(document: Document) -> None:
    """7.5: a header cell says whether it heads a row or a column."""
    for page in document.pages:
        for box in walk(page._page_box):
            if box.element is not None and box.element_tag == "th" and hasattr(box, "mark"):
                box.mark["A"]["Scope"] = _SCOPES.get(box.element.get("scope", ""), "/Column")


def _say_languages(document: Document, pdf: pydyf.PDF) -> None:
    """7.2: what is in another language than the document says so, to be read out in it.

    Such a text came here as a link without an end (see ``prepare``), since WeasyPrint has no other inline tag that it
    does not also give to what is in the document's language. Boxes and tags are in the same order.
    """
    ends = [
        box
        for page in document.pages
        for box in walk(page._page_box)
        if box.element is not None
        and (box.element_tag or "").partition(":")[0] == "a"
        and not isinstance(box, (boxes.TextBox, boxes.LineBox))
    ]
    links = [item for item in structure(pdf) if item["S"] == "/Link"]
    for item, box in zip(links, ends, strict=True):
        if box.element.get("href") is None and (language := box.element.get("lang")):
            item["S"] = "/Span"
            item["Lang"] = pydyf.String(language)


def _plain_scopes(pdf: pydyf.PDF) -> None:
    """Let the scope alone say what heads a cell: WeasyPrint's lists of headers go wrong where cells span rows."""
    for item in structure(pdf):
        if item["S"] in ("/TH", "/TD"):
            item.pop("ID", None)
            if "A" in item:
                item["A"].pop("Headers", None)


def _list_bodies(pdf: pydyf.PDF) -> None:
    """7.6: what is in a list item is its label or its body."""
    for item in list(structure(pdf)):
        if item["S"] != "/LI":
            continue
        loose = [kid for kid in item["K"] if resolve(pdf, kid)["S"] not in ("/Lbl", "/LBody")]
        if loose:
            body = pydyf.Dictionary(
                {"Type": "/StructElem", "S": "/LBody", "K": pydyf.Array(loose), "Pg": item["Pg"], "P": item.reference}
            )
            pdf.add_object(body)
            for kid in loose:
                resolve(pdf, kid)["P"] = body.reference
            at = item["K"].index(loose[0])
            item["K"][:] = [kid for kid in item["K"] if kid not in loose]
            item["K"].insert(at, body.reference)


def _turn_figures(pdf: pydyf.PDF, heights: list[float]) -> None:
    """WeasyPrint gives the outline of a figure in CSS pixels from the top; PDF counts points from the bottom."""
    pages = dict(zip(pdf.page_references, heights, strict=True))
    for item in structure(pdf):
        if item["S"] == "/Figure" and "BBox" in item.get("A", {}):
            x1, y1, x2, y2 = (value * PT_PER_PX for value in item["A"]["BBox"])
            height = pages[item["Pg"]]
            item["A"]["BBox"] = pydyf.Array((x1, height - y2, x2, height - y1))


def _describe_links(document: Document) -> None:
    """7.18.5: a link annotation has a description in its Contents."""
    for page in document.pages:
        for _, _, _, box in page.links:
            if box.link_annotation:
                text = " ".join("".join(box.element.itertext()).split())
                box.link_annotation["Contents"] = pydyf.String(text)
