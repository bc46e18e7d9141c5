"""What a page says wherever it is printed, from its HTML: quicker by far than laying it out and reading the paper."""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element

from docgen.press.page import parsed
from docgen.sheets.page import Page

INLINE = {"a", "abbr", "b", "bdi", "em", "i", "mark", "q", "s", "small", "span", "strong", "sub", "sup", "u", "wbr"}
SVG = "{http://www.w3.org/2000/svg}svg"
NOT_ALWAYS = ("data-spare", "data-furniture", "data-top")
"""Blocks that are printed where there is room, or on some of the faces."""


def said(page: Page, always: bool = True) -> list[str]:
    """The text of each block of a page, in order, white space folded.

    always : without blocks that are not printed everywhere; else with all that the page may say
    """
    root = parsed(page.html)
    assert root is not None
    body = root.find("body")
    assert body is not None
    texts = "".join(_pieces(body, always)).split("\0")
    return [" ".join(text.split()) for text in texts if text.strip()]


def _pieces(element: Element, always: bool) -> Iterator[str]:
    """The texts of an element, with a zero at the edges of its blocks."""
    yield element.text or ""
    for child in element:
        edge = "" if child.tag in INLINE else "\0"
        yield edge
        if child.tag != SVG and not (always and any(name in child.attrib for name in NOT_ALWAYS)):
            yield from _pieces(child, always)
        yield edge
        yield child.tail or ""
