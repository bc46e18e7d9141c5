"""HTML and CSS to the finished PDF: the one door of the press."""

from __future__ import annotations

import logging
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache

from weasyprint import CSS
from weasyprint.logger import LOGGER

from docgen.press.errors import PressError
from docgen.press.fetch import Asset, SealedFetcher
from docgen.press.finish import finish
from docgen.press.fonts import beyond_main, fonts_for, missing_glyphs
from docgen.press.meta import Attached, Meta
from docgen.press.overflow import page_faults
from docgen.press.page import BASE_URL, Page, own_sheet
from docgen.press.prepare import composed, css_text, page_text, prepare

MM_PER_PX = 25.4 / 96


@dataclass(frozen=True)
class Pressed:
    """A finished PDF. `sizes` gives each page's width and height in mm."""

    pdf: bytes
    pages: int
    sizes: tuple[tuple[float, float], ...]


class _Log(logging.Handler):
    """Keeps what WeasyPrint complains of, so that no complaint is lost."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


@contextmanager
def _listening() -> Iterator[list[str]]:
    log = _Log()
    LOGGER.addHandler(log)
    propagate, LOGGER.propagate = LOGGER.propagate, False
    try:
        yield log.said
    finally:
        LOGGER.removeHandler(log)
        LOGGER.propagate = propagate


@lru_cache(maxsize=64)
def _sheet(css: str, extra: frozenset[str]) -> CSS:
    """A parsed style sheet, shared by all pages that use it. Raises PressError when there is a fault in it."""
    fetcher = SealedFetcher()
    with _listening() as complaints:
        sheet = CSS(string=css, font_config=fonts_for(extra).config, url_fetcher=fetcher, base_url=BASE_URL)
    if faults := [*complaints, *fetcher.refused]:
        raise PressError(f"CSS: {fault}" for fault in faults)
    return sheet


@lru_cache(maxsize=64)
def _css_text(css: str) -> str:
    return css_text(css)


def render(
    html: str,
    *,
    css: str,
    meta: Meta,
    attachments: Sequence[Attached] = (),
    assets: Mapping[str, Asset] | None = None,
    forms: bool = False,
) -> Pressed:
    """Print one document as PDF/A-3a and PDF/UA-1.

    `html` is a whole page; its language and title come from `meta`. It may load `asset:NAME` from `assets` and
    nothing else; links that leave the document are printed as plain text. With `forms`, its inputs become fields.
    The same input gives the same bytes. Raises PressError, with every fault found, when the page is not fit to print:
    a missing glyph, a refused or broken resource, faulty CSS, content that overflows or is clipped.
    """
    fetcher = SealedFetcher(assets=assets)
    with _listening() as complaints:
        page = Page(composed(html), fetcher)
        faults = prepare(page.etree_element, language=meta.language)
        text = page_text(page.etree_element) + _css_text(css)
        faults += [
            f'no face has a glyph for "{char}" (U+{ord(char):04X}): draw it, or use another character'
            for char in sorted(missing_glyphs(text))
        ]
        if faults:
            raise PressError(faults)
        extra = beyond_main(text)
        fonts = fonts_for(extra)
        fetcher.serve_fonts(fonts.files)
        document = page.render(
            font_config=fonts.config,
            stylesheets=[_sheet(css, extra), *([own_sheet("forms.css")] if forms else [])],
            pdf_forms=forms,
            pdf_variant="pdf/a-3a",
        )
        faults = [f"refused to load {what}" for what in fetcher.refused] or page_faults(document)
        if faults:
            raise PressError(faults)
        document.fonts = {}
        pdf = finish(document, meta, attachments, forms=forms)
    if complaints:
        raise PressError(complaints)
    sizes = tuple((round(p.width * MM_PER_PX, 3), round(p.height * MM_PER_PX, 3)) for p in document.pages)
    return Pressed(pdf, len(document.pages), sizes)
