"""Several sheets bound into one document for printing on both sides: each on its own paper, each on a front page.

Every section is laid out, checked and numbered as a document of its own, then their pages are drawn as one, so that
the tags, the fonts and the archive's rules hold for the whole.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import pydyf
from weasyprint.document import Document

from docgen.press.casting import form_of, resolve, sizes_of
from docgen.press.finish import drawn
from docgen.press.meta import Order, Pressed, PressError
from docgen.press.qr import codes_drawing
from docgen.press.render import laid_out, listening
from docgen.sheets.binder import Where
from docgen.sheets.page import Place

ATTEMPTS = 5
"""How often the contents may be laid out until the pages that they name are the pages that they are on."""


@dataclass(frozen=True)
class Section:
    """One sheet of the whole.

    title : of its bookmark
    label : what stands before a page's number in the viewer's page box, as in 017-CLU-04-003-L, and, in small letters,
            before the names of its attached files
    """

    title: str
    label: str
    order: Order


class Unfit(PressError):
    """Sections that cannot be printed: the place of each in the whole, and why."""

    def __init__(self, found: Mapping[int, Sequence[str]], titles: Sequence[str]) -> None:
        self.found = found
        super().__init__(f"{titles[n]}: {fault}" for n, faults in found.items() for fault in faults)


Contents = Callable[[Sequence[Where]], Order]
Blank = Callable[[tuple[float, float]], Order]


def bind(sections: Sequence[Section], contents: Contents, blank: Blank) -> Pressed:
    """One document: the contents, then the sections, each on an odd page.

    contents : the order of the contents, given where each section begins; it may link to ``#`` and its anchor.
               Its key is the title of their bookmark, and stands before the numbers of their pages; what it says of
               itself holds for the whole
    blank    : the order of the back page that stays blank behind a section with an odd number of pages, by its size
    Errors: Unfit, with the section's title before each fault, when one of them is not fit to print.
    """
    with listening():
        laid = _all_laid(sections)
        first, front = _front(laid, contents)
        faces: list[tuple[Any, Sequence[tuple[str, Place]], str]] = []
        for section, document in zip((first, *sections), (front, *laid), strict=True):
            _marked(document, section.title, len(faces) + 1)
            for number, page in enumerate(document.pages, 1):
                codes = numbers.codes(number) if (numbers := section.order.numbers) else ()
                faces.append((page, codes, f"{section.label}{number}"))
            if len(document.pages) % 2:
                faces += ((page, (), "–") for page in laid_out(blank(sizes_of(document)[-1])).pages)
        attachments = tuple(
            replace(one, name=f"{section.label.strip('-').lower()}-{one.name}")
            for section in sections
            for one in section.order.attachments
        )
        whole, order = front.copy([page for page, *_ in faces]), replace(first.order, attachments=attachments)
        pdf, told = drawn(whole, order)
        _for_the_printer(pdf, [label for *_, label in faces])
        for reference, (_, each, _) in zip(pdf.page_references, faces, strict=True):
            if each:
                resolve(pdf, resolve(pdf, reference)["Contents"]).stream.append(codes_drawing(each))
        made = form_of(whole, pdf, told, order).filled(order)
    assert made is not None, "a form takes the values that it was laid out with"
    return made


def _all_laid(sections: Sequence[Section]) -> list[Document]:
    """Every section laid out; all faults of all sections at once, each behind its section's title."""
    found: list[Document] = []
    faults: dict[int, Sequence[str]] = {}
    for n, section in enumerate(sections):
        try:
            found.append(laid_out(section.order))
        except PressError as error:
            faults[n] = error.faults
    if faults:
        raise Unfit(faults, [section.title for section in sections])
    return found


def _front(laid: Sequence[Document], contents: Contents) -> tuple[Section, Document]:
    """The contents, laid out anew until they take as many pages as the starts that they name count with."""
    taken = 2
    for _ in range(ATTEMPTS):
        order = contents(list(_starts(laid, taken)))
        front = laid_out(order)
        needed = len(front.pages) + len(front.pages) % 2
        if needed == taken:
            return Section(order.key, f"{order.key} ", order), front
        taken = needed
    raise ValueError("the contents never come to rest: each time they name other pages than they then lie on")


def _starts(laid: Sequence[Document], after: int) -> Iterator[Where]:
    page = after + 1
    for document in laid:
        count = len(document.pages)
        yield Where(page, count, sizes_of(document)[0], f"page-{page}")
        page += count + count % 2


def _marked(document: Document, title: str, number: int) -> None:
    """Bookmarks below the section's own, and link targets that no other section can have."""
    for at, page in enumerate(document.pages):
        page.bookmarks = [(level + 1, *rest) for level, *rest in page.bookmarks]
        page.anchors = {f"{number}.{name}": place for name, place in page.anchors.items()}
        if number > 1:
            page.links = [
                (kind, f"{number}.{target}" if kind == "internal" else target, *rest)
                for kind, target, *rest in page.links
            ]
        if at == 0:
            page.bookmarks.insert(0, (1, title, (0, 0), "closed"))
            page.anchors[f"page-{number}"] = (0, 0, page.width, page.height)


def _for_the_printer(pdf: pydyf.PDF, labels: Sequence[str]) -> None:
    """Page labels (ISO 32000-1, 12.4.2); both sides, and each page on paper of its own size (12.2)."""
    told = (pydyf.Dictionary({"P": pydyf.String(label)}) for label in labels)
    numbers = pydyf.Array(item for pair in enumerate(told) for item in pair)
    pdf.catalog["PageLabels"] = pydyf.Dictionary({"Nums": numbers})
    wishes = pdf.catalog.setdefault("ViewerPreferences", pydyf.Dictionary())
    wishes |= {"Duplex": "/DuplexFlipLongEdge", "PickTrayByPDFSize": "true"}
    pdf.catalog["PageMode"] = "/UseOutlines"
