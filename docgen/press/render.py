"""An order to the finished PDF: the one door of the press."""

import gc
import logging
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache

from weasyprint import CSS
from weasyprint.document import Document
from weasyprint.logger import LOGGER
from weasyprint.urls import URLFetchingError

from docgen.press.blocks import BLOCKS
from docgen.press.casting import form_of
from docgen.press.finish import drawn
from docgen.press.fonts import beyond_main, fonts_for, missing_glyphs
from docgen.press.form import Form
from docgen.press.galley import on_faces
from docgen.press.meta import NO_FACE, Order, Pressed, PressError, composed
from docgen.press.overflow import page_faults
from docgen.press.page import BASE_URL, Page, SealedFetcher, own_sheet
from docgen.press.prepare import css_text, page_text, prepare


@contextmanager
def listening(where: str = "") -> Iterator[None]:
    """While WeasyPrint works: whatever it complains of is raised as a PressError in the end, behind `where`."""
    said: list[str] = []
    log = logging.Handler(logging.WARNING)
    log.emit = lambda record: said.append(record.getMessage())  # type: ignore[method-assign]
    LOGGER.addHandler(log)
    propagate, LOGGER.propagate = LOGGER.propagate, False
    try:
        yield
    finally:
        LOGGER.removeHandler(log)
        LOGGER.propagate = propagate
    if faults := dict.fromkeys(map(_plainly, said)):
        raise PressError(f"{where}{fault}" for fault in faults)


@contextmanager
def _undisturbed() -> Iterator[None]:
    """No looking for what can be thrown away while a sheet is made: nearly all of it lives until its end.

    Then it is looked for among what was made since, and not among all that the program has loaded.
    """
    enabled = gc.isenabled()
    gc.disable()
    gc.freeze()
    try:
        yield
    finally:
        gc.collect()
        gc.unfreeze()
        if enabled:
            gc.enable()


def _no_glyph(char: str) -> str:
    return f'{NO_FACE} here has "{char}" (U+{ord(char):04X}): change it in the file that says it'


def _plainly(complaint: str) -> str:
    """A complaint of WeasyPrint's in our words, where it is one that a page's author may meet."""
    if match := re.match(r'\.notdef glyph rendered .* "(.)" \(U\+[0-9A-F]+\)$', complaint, re.DOTALL):
        return _no_glyph(match[1])
    return complaint


def _refused(fetcher: SealedFetcher) -> list[str]:
    return [f"refused to load {what}" for what in dict.fromkeys(fetcher.refused)]


@lru_cache(maxsize=64)
def _sheet(css: str, extra: frozenset[str]) -> CSS:
    """A parsed style sheet, shared by all pages that use it. Errors: PressError when there is a fault in it."""
    fetcher = SealedFetcher()
    try:
        with listening("CSS: "):
            sheet = CSS(string=css, font_config=fonts_for(extra), url_fetcher=fetcher, base_url=BASE_URL)
            if faults := _refused(fetcher):
                raise PressError(f"CSS: {fault}" for fault in faults)
    except URLFetchingError as error:
        raise PressError(f"CSS: {error}") from error
    return sheet


@_undisturbed()
def render(order: Order, keep: Callable[[Form], None] | None = None) -> Pressed:
    """Print one order as PDF/A-3a and PDF/UA-1.

    `keep` is given the form that a page with a body leaves behind, to be filled with other values.
    The same order gives the same bytes. One document at a time in a process: threads would mix up their complaints.

    Errors: PressError, with every fault found, when the page is not fit to print:
    a missing glyph, a refused or broken resource, faulty CSS, content that overflows or is clipped.
    """
    with listening():
        document = laid_out(order)
        form = form_of(document, *drawn(document, order), order)
        if faults := _refused(document.url_fetcher):
            raise PressError(faults)
    if order.body:
        BLOCKS.keep()
        if keep:
            keep(form)
    made = form.filled(order)
    assert made is not None, "a form takes the values that it was laid out with"
    return made


def laid_out(order: Order) -> Document:
    """An order's page prepared, laid out, and found fit to print. Errors: PressError with every fault found."""
    fetcher = SealedFetcher(assets=order.drawings)
    page = Page(composed(order.html), fetcher)
    faults = prepare(page.etree_element, page.drawings.values(), language=order.language)
    values = (one for one in page.etree_element.iterfind(".//*[@data-value]") if not len(one))
    for at, value in enumerate(values):
        value.set("data-value", str(at))
    text = "".join(map(page_text, (page.etree_element, *page.drawings.values())))
    text += css_text(order.css) + css_text(order.faces)
    faults += [_no_glyph(char) for char in sorted(missing_glyphs(text))]
    if faults:
        raise PressError(faults)
    extra = beyond_main(text)
    sheets = [_sheet(order.css, extra), *([own_sheet("forms.css")] if order.forms else [])]

    def layout(one: Page, *more: str) -> Document:
        styles = [*sheets, *(_sheet(text, extra) for text in more)]
        return one.render(font_config=fonts_for(extra), stylesheets=styles, pdf_forms=order.forms)

    if order.body is None:
        document = layout(page)
    else:
        document = on_faces(page, order, order.body, extra, layout)
    if faults := _refused(fetcher) or page_faults(document):
        raise PressError(faults)
    return document
