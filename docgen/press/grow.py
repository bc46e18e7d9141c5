"""Elements that take what is left of their page: `data-grow="90 mm"`, and that much at most.

What stands to be written into is better large than followed by blank paper. The page is laid out once to see what is
left, and once more with it; nothing moves to another page by that.
"""

from __future__ import annotations

import re
from xml.etree.ElementTree import Element

from weasyprint.document import Document

from docgen.press.flow import flow

PX_PER_MM = 96 / 25.4
SPARE = 1.0
"""Millimetres of what is left that stay free, so that rounding parts nothing."""


def take_what_is_left(root: Element, document: Document) -> bool:
    """Set the height of each element of `root` that asks to grow; whether one did. `document` is how it was laid out.

    Only what stands in the page's flow counts; what is placed over it, and running heads and feet, are not seen.
    """
    asking = [element for element in root.iter() if element.get("data-grow")]
    flows = [list(flow(page._page_box)) for page in document.pages] if asking else []
    grew = False
    for page, boxes, following in zip(document.pages, flows, [*flows[1:], []], strict=False):
        # What goes on on the next page reaches down to this one's end, whatever is in it.
        continued = {id(box.element) for box in following}
        bottoms = [box.position_y + box.margin_height() for box in boxes if id(box.element) not in continued]
        end = page._page_box.content_box_y() + page._page_box.height
        for box in boxes:
            most = _most(box.element) if any(box.element is element for element in asking) else None
            if most is None:
                continue
            now = box.border_height() if box.style["box_sizing"] == "border-box" else box.height
            height = min(now + end - max(bottoms) - SPARE * PX_PER_MM, most)
            if height > now:
                own = box.element.get("style", "")
                box.element.set("style", f"{own}; height: {height / PX_PER_MM:.2f}mm".removeprefix("; "))
                grew = True
    return grew


def _most(element: Element) -> float | None:
    found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?) ?mm", element.get("data-grow", ""))
    return float(found[1]) * PX_PER_MM if found else None
