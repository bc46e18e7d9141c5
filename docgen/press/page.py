"""A page as WeasyPrint takes it: what it may load, its own base style sheet, its elements.

The parser of HTML is written in Python and takes a tenth of the time in which a sheet is laid out; that of XML takes a
tenth of it. Our templates close what they open. What XML does not have (attributes without a value, elements that are
never closed) is put into its form first; a page that it does not read, or that HTML reads otherwise, is left to HTML.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import copy
from functools import cache, lru_cache
from hashlib import blake2b
from pathlib import Path
from typing import Any
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from weasyprint import CSS, HTML, cssselect2
from weasyprint.html import HTML_HANDLERS
from weasyprint.urls import URLFetcher, URLFetcherResponse

BASE_URL = "asset:"
_HERE = Path(__file__).parent
_SVG = "{http://www.w3.org/2000/svg}svg"
_handle_svg = HTML_HANDLERS[_SVG]
_DOCTYPE = re.compile(r"\s*<!doctype html>", re.IGNORECASE)
_TAG = re.compile(r"<([a-zA-Z][\w:-]*+)((?:[^<>\"']++|\"[^\"]*+\"|'[^']*+')*+)>")
_ATTRIBUTE = re.compile(r"(?<!\s)(\s++[^\s=\"'<>/]++)(?:\s*+=\s*+(\"[^\"]*+\"|'[^']*+'|[^\s\"'<>]++))?")
_DRAWING = re.compile(r"(<svg\b[^>]*+)>\s*+(<title>[^<]*+</title>)(?:[^<]++|<(?!/?svg\b))*+</svg>")
_ENDS = re.compile(r"</?svg\b")
_VOID = frozenset({"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"})
_CLOSING_P = frozenset(
    {"div", "dl", "figure", "footer", "form", "h1", "h2", "h3", "h4", "header", "hr", "main", "ol", "p", "pre",
     "section", "table", "ul"}
)  # fmt: skip
"""What ends a paragraph in HTML, wherever it stands."""
_NAME = re.compile(r"(font|asset):([A-Za-z0-9][A-Za-z0-9._-]*)")


class SealedFetcher(URLFetcher):  # type: ignore[misc]
    """Serves `font:` and `asset:` names; refuses and records the rest.

    Pages get one without fonts: the press loads its faces once and for all, and no page may add to them. Assets are
    SVG. The parent's network, file and proxy handlers are never installed, so nothing is left that could reach out.
    """

    def __init__(self, *, fonts: Mapping[str, bytes] | None = None, assets: Mapping[str, str] | None = None) -> None:
        super(URLFetcher, self).__init__()
        self._fail_on_errors = False
        self._fonts = fonts or {}
        self.assets = assets or {}
        self.drawings: Mapping[str, Element] = {}
        self.refused: list[str] = []

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        """Return the named thing. Errors: ValueError for anything else, which is also recorded in `refused`."""
        kind, name = match.groups() if (match := _NAME.fullmatch(url)) else ("", "")
        if kind == "font" and name in self._fonts:
            return URLFetcherResponse(url, self._fonts[name], {"Content-Type": "font/ttf"})
        if kind != "asset" or name not in self.assets:
            raise self._refuse(url, "not a font or drawing of ours")
        if "<!DOCTYPE" in self.assets[name] or "<!ENTITY" in self.assets[name]:
            raise self._refuse(url, "a drawing with a document type")
        return URLFetcherResponse(url, self.assets[name].encode(), {"Content-Type": "image/svg+xml"})

    def _refuse(self, url: str, why: str) -> ValueError:
        shown = url if len(url) <= 80 else url[:77] + "..."
        self.refused.append(f"{shown}: {why}")
        return ValueError(f"refused: {shown}: {why}")


def _drawn(element: Element, box: Any, get_image: Any, base_url: str) -> Any:
    """Called by WeasyPrint for an <svg>: the drawing that was lifted out of it (see ``lifted``)."""
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
        except ElementTree.ParseError:
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


def parsed(html: str) -> Element | None:
    """The elements of a page; None where the parser of HTML is to read it.

    >>> parsed('<!DOCTYPE html><html><p hidden title=it>1 &lt; 2<br>3</p></html>')[0].attrib
    {'hidden': '', 'title': 'it'}
    >>> parsed("<html><table><tr></tr></table></html>"), parsed("<html><p>1<p>2</html>")
    (None, None)
    """
    start = _DOCTYPE.match(html)
    try:
        root = ElementTree.fromstring(_TAG.sub(_closed, html[start.end() :] if start else html))
    except ElementTree.ParseError:
        return None
    return root if root.tag == "html" and all(map(_alike, root.iter())) else None


def lifted(html: str) -> tuple[str, dict[str, str]]:
    """The page with its drawings left empty but for their titles, each named by a digest, and the drawings.

    What is in a drawing is neither styled nor laid out with the page: it need not be read with it either. One without
    a title, or that names a picture, stays where it is.

    >>> lifted('<p><svg a="1"><title>t</title><g/></svg></p>')[0]
    '<p><svg a="1" data-drawing="bcd3a6c648b50e3b"><title>t</title></svg></p>'
    """
    drawings: dict[str, str] = {}

    def lift(drawing: re.Match[str]) -> str:
        if "asset:" in drawing[0]:
            return drawing[0]
        name = blake2b(drawing[0].encode(), digest_size=8).hexdigest()
        drawings[name] = drawing[0]
        return f'{drawing[1]} data-drawing="{name}">{drawing[2]}</svg>'

    ends = _ENDS.findall(html)
    if ends != ["<svg", "</svg"] * (len(ends) // 2):  # one within another
        return html, {}
    return _DRAWING.sub(lift, html), drawings


@lru_cache(maxsize=128)
def drawing(text: str) -> Element:
    """A drawing's elements. Errors: ElementTree.ParseError."""
    return ElementTree.fromstring(_TAG.sub(_closed, text))


def _closed(tag: re.Match[str]) -> str:
    name, attributes = tag[1], tag[2]
    closed = attributes.endswith("/")
    told = _ATTRIBUTE.sub(_quoted, attributes.removesuffix("/"))
    return f"<{name}{told}{'/' if closed or name in _VOID else ''}>"


def _quoted(attribute: re.Match[str]) -> str:
    value = attribute[2] or '""'
    return f"{attribute[1]}={value}" if value[0] in "\"'" else f'{attribute[1]}="{value}"'


def _alike(element: Element) -> bool:
    """Whether HTML reads an element as it is written: it adds the bodies of tables, and ends a paragraph by itself."""
    inside = {child.tag for child in element}
    if element.tag == "table":
        return "tr" not in inside
    if element.tag == "p":
        return not inside & _CLOSING_P
    return element.tag not in ("textarea", "pre") or not (element.text or "").startswith("\n")
