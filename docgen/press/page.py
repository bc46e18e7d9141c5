"""A page as WeasyPrint parses it, standing on our own base style sheet."""

from __future__ import annotations

from copy import copy
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

from weasyprint import CSS, HTML, cssselect2

from docgen.press.fetch import SealedFetcher
from docgen.press.parse import parsed

BASE_URL = "asset:"
_HERE = Path(__file__).parent


@cache
def own_sheet(name: str) -> CSS:
    """A style sheet of the press itself."""
    css = _HERE.joinpath(name).read_text(encoding="utf-8")
    return CSS(string=css, url_fetcher=SealedFetcher(), base_url=BASE_URL)


class Page(HTML):  # type: ignore[misc]
    """A whole HTML page that can load nothing but what its fetcher serves."""

    def __init__(self, html: str, fetcher: SealedFetcher) -> None:
        root = parsed(html)
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
