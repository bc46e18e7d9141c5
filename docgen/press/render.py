"""HTML and CSS to the finished PDF: the one door of the press."""

from __future__ import annotations

import gc
import logging
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import lru_cache

import pydyf
from weasyprint import CSS
from weasyprint.document import Document
from weasyprint.logger import LOGGER
from weasyprint.urls import URLFetchingError

from docgen.press.blocks import BLOCKS
from docgen.press.errors import NO_FACE, PressError
from docgen.press.fetch import SealedFetcher
from docgen.press.finish import finish
from docgen.press.fonts import beyond_main, fonts_for, missing_glyphs
from docgen.press.form import Form
from docgen.press.formed import form_of
from docgen.press.galley import Layout, on_faces
from docgen.press.meta import Asset, Attached, Meta, Pressed
from docgen.press.overflow import page_faults
from docgen.press.page import BASE_URL, Page, own_sheet
from docgen.press.prepare import composed, css_text, page_text, prepare
from docgen.press.values import Filling, parted
from docgen.sheets.numbering import Numbers
from docgen.sheets.page import Body

MM_PER_PX = 25.4 / 96


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


@contextmanager
def listening() -> Iterator[None]:
    """While WeasyPrint works: whatever it complains of is raised as a PressError in the end."""
    with _listening() as complaints:
        yield
    if faults := list(dict.fromkeys(map(_plainly, complaints))):
        raise PressError(faults)


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
    """A parsed style sheet, shared by all pages that use it. Raises PressError when there is a fault in it."""
    fetcher = SealedFetcher()
    with _listening() as complaints:
        try:
            sheet = CSS(string=css, font_config=fonts_for(extra), url_fetcher=fetcher, base_url=BASE_URL)
        except URLFetchingError as error:
            raise PressError(f"CSS: {error}") from error
    if faults := _refused(fetcher) or complaints:
        raise PressError(f"CSS: {fault}" for fault in faults)
    return sheet


@lru_cache(maxsize=64)
def _css_text(css: str) -> str:
    return css_text(css)


@_undisturbed()
def render(
    html: str,
    *,
    css: str,
    meta: Meta,
    attachments: Sequence[Attached] = (),
    assets: Mapping[str, Asset] | None = None,
    forms: bool = False,
    body: Body | None = None,
    faces: str = "",
    numbers: Numbers | None = None,
    keep: Callable[[Form], None] | None = None,
) -> Pressed:
    """Print one document as PDF/A-3a and PDF/UA-1.

    `html` is a whole page; its language and title come from `meta`. It may load `asset:NAME` from `assets` and
    nothing else; links that leave the document are printed as plain text. With `forms`, its inputs become fields. With
    a `body`, its blocks are laid out once and placed on faces, whose own CSS is `faces` and which bear `numbers` (see
    `sheets.page.Page`); `keep` is given the form that such a page leaves behind, to be filled with other values.
    The same input gives the same bytes. One document at a time in a process: threads would mix up their complaints.

    Elements may ask for more: `data-keep-clear="2 mm"` for that much clear space around them, `data-keep-together`
    for staying whole on one page, `data-most-pages="99"` (the body) for being refused with more, `aria-hidden="true"`
    (pictures) for not being read out.

    Raises PressError, with every fault found, when the page is not fit to print:
    a missing glyph, a refused or broken resource, faulty CSS, content that overflows or is clipped.
    """
    fetcher = SealedFetcher(assets=assets)
    with listening():
        document = laid_out(html, css, meta.language, fetcher, forms=forms, body=body, faces=faces, numbers=numbers)
        filling = Filling(parted(composed(html))[1], numbers, meta, tuple(attachments))
        made: list[tuple[Form, bytes]] = []

        def also(document: Document, pdf: pydyf.PDF) -> None:
            if body and (found := form_of(document, pdf, filling, sizes_of(document))) is not None:
                made.append(found)
                pdf.write = lambda *_: None  # it is written already

        pdf = finish(document, meta, attachments, forms=forms, also=also)
        if faults := _refused(fetcher):
            raise PressError(faults)
    if body:
        BLOCKS.keep()
    if made:
        form, pdf = made[0]
        if keep:
            keep(form)
    return Pressed(pdf, len(document.pages), sizes_of(document))


def laid_out(
    html: str, css: str, language: str, fetcher: SealedFetcher, *, forms: bool = False, body: Body | None = None,
    faces: str = "", numbers: Numbers | None = None,
) -> Document:  # fmt: skip
    """A page prepared, laid out, and found fit to print. Raises PressError with every fault found."""
    page = Page(composed(html), fetcher)
    faults = prepare(page.etree_element, page.drawings.values(), language=language)
    values = (one for one in page.etree_element.iterfind(".//*[@data-value]") if not len(one))
    for at, value in enumerate(values):
        value.set("data-value", str(at))
    text = "".join(map(page_text, (page.etree_element, *page.drawings.values()))) + _css_text(css) + _css_text(faces)
    faults += [_no_glyph(char) for char in sorted(missing_glyphs(text))]
    if faults:
        raise PressError(faults)
    extra = beyond_main(text)
    sheets = [_sheet(css, extra), *([own_sheet("forms.css")] if forms else [])]

    def layout(one: Page, *more: str) -> Document:
        return one.render(
            font_config=fonts_for(extra), stylesheets=[*sheets, *(_sheet(text, extra) for text in more)],
            pdf_forms=forms, pdf_variant="pdf/a-3a",
        )  # fmt: skip

    if body is None:
        document = layout(page)
    else:
        way = Layout(lambda root, css: layout(page.of(root), css), (css, extra, forms), fetcher.assets)
        document = on_faces(page.etree_element, body, faces, numbers, way)
    if faults := _refused(fetcher) or page_faults(document):
        raise PressError(faults)
    return document


def sizes_of(document: Document) -> tuple[tuple[float, float], ...]:
    """Each page's width and height in mm."""
    return tuple((round(p.width * MM_PER_PX, 3), round(p.height * MM_PER_PX, 3)) for p in document.pages)
