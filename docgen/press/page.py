"""A page as WeasyPrint parses it, standing on our own base style sheet."""

from __future__ import annotations

from functools import cache
from pathlib import Path

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

    def _ua_stylesheets(self, forms: bool = False) -> list[CSS]:
        """Called by WeasyPrint for the style sheets below the page's own."""
        return [own_sheet("base.css")]
