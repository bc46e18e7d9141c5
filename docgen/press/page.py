"""A page as WeasyPrint parses it, standing on our own base style sheet."""

from __future__ import annotations

from copy import copy
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element, ParseError

from weasyprint import CSS, HTML, cssselect2
from weasyprint.html import HTML_HANDLERS

from docgen.press.fetch import SealedFetcher
from docgen.press.parse import drawing, lifted, parsed

BASE_URL = "asset:"
_HERE = Path(__file__).parent


_SVG = "{http://www.w3.org/2000/svg}svg"
_handle_svg = HTML_HANDLERS[_SVG]


def _drawn(element: Element, box: Any, get_image: Any, base_url: str) -> Any:
    """Called by WeasyPrint for an <svg>: the drawing that was lifted out of it (see ``parse.lifted``)."""
    drawings = get_image.keywords["url_fetcher"].drawings
    return _handle_svg(drawings.get(element.get("data-drawing", ""), element), box, get_image, base_url)


HTML_HANDLERS[_SVG] = _drawn


@cache
def own_sheet(name: str) -> CSS:
    """A style sheet of the press itself."""
    css = _HERE.joinpath(name).read_text(encoding="utf-8")
    return CSS(string=css, url_fetcher=SealedFetcher(), base_url=BASE_URL)


class Page(HTML):  # type: ignore[misc]
    """A whole HTML page that can load nothing but what its fetcher serves."""

    def __init__(self, html: str, fetcher: SealedFetcher) -> None:
        less, drawings = lifted(html)
        root = parsed(less)
        try:
            self.drawings = fetcher.drawings = {name: drawing(text) for name, text in drawings.items()}
        except ParseError:
            root, self.drawings = None, {}
        if root is None:
            super().__init__(string=html, url_fetcher=fetcher, base_url=BASE_URL)
            return
        self.base_url, self.url_fetcher, self.media_type = BASE_URL, fetcher, "print"
        self.wrapper_element = cssselect2.ElementWrapper.from_html_root(root, content_language=None)
        self.etree_element = root

    def of(self, root: Element) -> Page:
        """A page like this one, of other elements."""
        other = copy(self)
        other.etree_element = root
        other.wrapper_element = type(self.wrapper_element).from_html_root(root, content_language=None)
        return other

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        """Called by WeasyPrint for the style sheets below the page's own."""
        return [own_sheet("base.css")]
