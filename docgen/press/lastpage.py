"""A last page that is nearly empty: saved where that can be, else made worth its paper: `data-last-page="20 %"`.

The body asks for it, by how far its last page should be filled at least. First the sheet is set a little tighter: the
body gets the class `tight`, then `tighter` as well, whose meaning its style sheet gives, until it takes fewer pages.
Where neither saves a page, the spacing stays as it was, and the last page begins earlier: at the last heading before it
that fills it far enough, or at the last child of the body that does. Only a sheet with such a last page is laid out
again, three times at most; what comes of it must be fit to print.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any
from xml.etree.ElementTree import Element

from weasyprint.document import Document

from docgen.press.flow import flow
from docgen.press.overflow import page_faults

TIGHTER = ("tight", "tight tighter")
"""The body's classes, one attempt each."""
MOST = 0.75
"""How far a last page may be filled by beginning it earlier, so that the page before it keeps its share."""
_HEADINGS = ("h1", "h2", "h3")

Again = Callable[[], Document]


def fill_last_page(root: Element, document: Document, again: Again) -> Document:
    """`document`, or what `again` makes of `root` when its last page asks for more than it has."""
    body = root.find("body")
    asked = re.fullmatch(r"([0-9]+) ?%", body.get("data-last-page", "")) if body is not None else None
    if body is None or asked is None or len(document.pages) < 2 or filled(document.pages[-1]) >= int(asked[1]) / 100:
        return document
    return _saved(body, document, again) or _begun_earlier(body, document, again, int(asked[1]) / 100) or document


def filled(page: Any) -> float:
    """How far down its text area a laid-out page is filled, as a part of one."""
    box = page._page_box
    bottoms = [one.position_y + one.margin_height() for one in flow(box) if one.element_tag not in ("html", "body")]
    return float((max(bottoms, default=box.content_box_y()) - box.content_box_y()) / box.height)


def _saved(body: Element, document: Document, again: Again) -> Document | None:
    own = body.get("class", "")
    for step in TIGHTER:
        body.set("class", f"{own} {step}".strip())
        tighter = again()
        if len(tighter.pages) < len(document.pages) and not page_faults(tighter):
            return tighter
    body.set("class", own)
    return None


def _begun_earlier(body: Element, document: Document, again: Again, least: float) -> Document | None:
    last = filled(document.pages[-1])
    begins = [
        (element, last + moved) for element, moved in _movable(body, document) if least <= last + moved <= MOST
    ]  # fmt: skip
    first = next((element for element, _ in begins if _headed(element)), begins[0][0] if begins else None)
    if first is None:
        return None
    own = first.get("style", "")
    first.set("style", f"{own}; break-before: page".removeprefix("; "))
    moved = again()
    if len(moved.pages) == len(document.pages) and not page_faults(moved):
        return moved
    first.set("style", own)
    return None


def _headed(element: Element) -> bool:
    return any(child.tag in _HEADINGS for child in element.iter())


def _movable(body: Element, document: Document) -> Iterator[tuple[Element, float]]:
    """Children of the body that begin on the last page but one, below others, from its end; what moves with each."""
    page = document.pages[-2]._page_box
    bottom = page.content_box_y() + page.height * filled(document.pages[-2])
    tops: dict[int, float] = {}
    for box in flow(page):
        if box.element is not None:
            tops.setdefault(id(box.element), box.position_y)
    here = [element for element in body if id(element) in tops]
    for element in reversed(here[1:]):
        yield element, (bottom - tops[id(element)]) / page.height
