"""A page as WeasyPrint parses it, standing on our own base style sheet."""

from __future__ import annotations

from copy import copy
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

from weasyprint import CSS, HTML

from docgen.press.fetch import SealedFetcher

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
        super().__init__(string=html, url_fetcher=fetcher, base_url=BASE_URL)

    def of(self, root: Element) -> Page:
        """A page like this one, of other elements."""
        other = copy(self)
        other.etree_element = root
        other.wrapper_element = type(self.wrapper_element).from_html_root(root, content_language=None)
        return other

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        """Called by WeasyPrint for the style sheets below the page's own."""
        return [own_sheet("base.css")]
