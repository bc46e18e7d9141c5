"""A page whose blocks are laid out once, in one long galley, and then placed on faces.

WeasyPrint lays the blocks out one below the other, but for those that this process has laid out before; the paginator
says where each goes; the faces, with their running heads and feet, are laid out empty, and the blocks' boxes are moved
into them. No block is laid out twice, and none is split.
"""

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from typing import Any
from xml.etree.ElementTree import Element, SubElement

from weasyprint.document import Document
from weasyprint.document import Page as LaidOut
from weasyprint.formatting_structure.boxes import TextBox
from weasyprint.layout.background import layout_box_backgrounds

from docgen.press.blocks import BLOCKS, keys_of
from docgen.press.form import Alphabet
from docgen.press.meta import PX_PER_MM, Order, PressError
from docgen.press.page import Page
from docgen.press.paginate import WIDE, Block, Placement, TooTall, paginate
from docgen.press.prepare import words
from docgen.press.slots import Found, alphabet, style_key, values_on
from docgen.sheets.page import Body, Numbers

LENGTH = 20_000
"""Height of the galley, mm."""
LayOut = Callable[[Page, str], Document]
"""Lays a page out, with CSS on top of its own."""


class Face(LaidOut):  # type: ignore[misc]
    """A page that knows, once it is painted, where its values stand."""

    found: Sequence[Found]
    alphabets: Mapping[tuple[object, ...], Alphabet]
    """That they are set in; their glyphs go into the fonts of the document."""

    def paint(self, stream: Any, scale: float = 1) -> None:
        """Called by WeasyPrint to draw the page."""
        super().paint(stream, scale)
        self.found = list(values_on(self._page_box))
        styles = {style_key(one.box.style): one.box.style for one in self.found if one.slot is not None}
        self.alphabets = {key: alphabet(stream, style) for key, style in styles.items()}


def on_faces(page: Page, order: Order, body: Body, extra: frozenset[str], lay_out: LayOut) -> Document:
    """The blocks of an order's page on as many faces as they need; `extra` are its letters beyond the main faces.

    A block that an earlier sheet had as well is not laid out again. Errors: PressError, naming the block, when one is
    higher than a face.
    """
    boxes, numbers = _laid_out(page, order, body, extra, lay_out), order.numbers
    blocks = [_block(box, body) for box in boxes]
    try:
        places = paginate(blocks, body)
    except TooTall as error:
        box = boxes[error.block]
        high = f'"{words(box.element)}" is {error.by:.0f} mm too high for a face'
        raise PressError(f"{high}: say it in fewer words") from None
    count = max(place.face for place in places) + 1
    if numbers is not None and count > numbers.most:
        raise PressError(f"{count} pages, and only {numbers.most} can be numbered: part the job into two")
    document = lay_out(page.of(_empty(page.etree_element, count, numbers)), order.faces)
    for number, face in enumerate(document.pages):
        moved = [(box, place) for box, place in zip(boxes, places, strict=True) if place.face == number]
        document.pages[number] = _filled(face, moved, body)
    return document


def _laid_out(page: Page, order: Order, body: Body, extra: frozenset[str], lay_out: LayOut) -> list[Any]:
    """The boxes of the blocks. Those that are known stand hidden and empty beside those that are laid out."""
    galley = _without(page.etree_element, furniture=True)
    css = f"@page {{ size: {body.width:.3f}mm {LENGTH}mm; margin: 0 }} [data-columns] {{ width: {body.column:.3f}mm }}"
    blocks = list(next(galley.iter("body")))

    def laid(wanted: Sequence[int]) -> dict[int, list[Any]]:
        for at, block in enumerate(blocks):
            if at not in wanted:
                block[:], block.text = [], None
                block.set("style", "display: none")
        document = lay_out(page.of(galley), css)
        if len(document.pages) != 1:
            raise PressError("the blocks are longer than the galley")
        found: dict[int, list[Any]] = {}
        for box in (one for one in _body_of(document.pages[0])[1].children if one.element_tag != "body"):
            found.setdefault(blocks.index(box.element), []).append(box)
        return found

    return BLOCKS.boxes(keys_of(galley, blocks, (order.css, extra, order.forms), css, order.drawings), laid)


def _floats_last(box: Any) -> None:
    """Have what floats beside a text read out behind it: the tags follow the order of the boxes."""
    children = getattr(box, "children", ())
    if any(child.is_floated() for child in children):
        box.children = sorted(children, key=lambda child: child.is_floated())
    for child in children:
        _floats_last(child)


def _stretch(box: Any, by: float) -> None:
    """Make a box higher, and what stands last in it as well, down to the field that takes the room."""
    while by and box is not None:
        box.height += by
        inside = [] if box.is_input() else [one for one in getattr(box, "children", ()) if type(one) is not TextBox]
        box = inside[-1] if inside else None


def _backgrounds(page_box: Any, box: Any) -> None:
    """Place the backgrounds anew: their places were taken from where the box was."""
    if box.background is not None:
        layout_box_backgrounds(page_box, box, None, layout_children=False)
    for child in box.all_children():
        _backgrounds(page_box, child)


def _without(root: Element, *, furniture: bool) -> Element:
    """A copy of the page without its running heads and feet, or without all else."""
    copy = deepcopy(root)
    body = next(copy.iter("body"))
    for child in [child for child in body if (child.get("data-furniture") is not None) == furniture]:
        body.remove(child)
    return copy


def _empty(root: Element, count: int, numbers: Numbers | None) -> Element:
    """The page with its heads and feet, and so many empty faces, each with furniture of its own that is numbered."""
    copy = _without(root, furniture=False)
    body = next(copy.iter("body"))
    numbered = [child for child in body if child.find(".//*[@data-face]") is not None]
    for child in numbered:
        body.remove(child)
    for number in range(count):
        face = SubElement(body, "div", {"style": "break-before: page"} if number else {})
        texts = numbers.texts(number + 1, count) if numbers is not None else {}
        for child in numbered:
            mine = deepcopy(child)
            for place in mine.iterfind(".//*[@data-face]"):
                place.text = texts[place.get("data-face", "")]
            face.append(mine)
    return copy


def _body_of(page: LaidOut) -> tuple[Any, Any]:
    html = next(box for box in page._page_box.children if box.element_tag == "html")
    return html, next(box for box in html.children if box.element_tag == "body")


def _block(box: Any, body: Body) -> Block:
    told = box.element
    return Block(
        height=box.margin_height() / PX_PER_MM,
        columns=body.columns if told.get("data-columns") is not None else WIDE,
        with_next=told.get("data-with-next") is not None,
        grows=float(told.get("data-grow", 0)),
        early=float(told.get("data-early", 0)),
        spare=int(told.get("data-spare", 0)),
        top=told.get("data-top") is not None,
    )


def _filled(page: LaidOut, moved: Sequence[tuple[Any, Placement]], body: Body) -> Face:
    """A face with the boxes of its blocks in it, each at its place."""
    html, inner = _body_of(page)
    for box, place in moved:
        top = (body.first if place.face == 0 else body.others)[0]
        left = body.left + place.column * (body.column + body.gap)
        _floats_last(box)
        box.translate(left * PX_PER_MM - box.position_x, (top + place.top) * PX_PER_MM - box.position_y)
        _stretch(box, place.grown * PX_PER_MM)
        _backgrounds(page._page_box, box)
    inner = inner.copy_with_children([box for box, _ in moved])
    html = html.copy_with_children([inner])
    whole = page._page_box
    return Face(whole.copy_with_children([html if box.element_tag == "html" else box for box in whole.children]))
