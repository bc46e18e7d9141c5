"""What WeasyPrint's laid-out boxes put on paper, as plain rectangles: texts, pictures, fields, rules, tints.

All lengths are CSS pixels from the page's top left corner (96 to the inch); `mm` turns them into millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from weasyprint.anchors import rectangle_aabb
from weasyprint.document import Page
from weasyprint.draw.color import get_color
from weasyprint.formatting_structure import boxes
from weasyprint.layout.absolute import AbsolutePlaceholder
from weasyprint.matrix import Matrix

# Height of capitals and depth of descenders of the body face, in ems (from its glyph outlines): what a text inks
# above and below its base line, accents on capitals apart. The font's own box is larger and would cry wolf.
CAPITALS, DESCENDERS = 0.72, 0.2
_TABLE_PARTS = (
    *(boxes.TableBox, boxes.TableRowGroupBox, boxes.TableRowBox), *(boxes.TableColumnBox, boxes.TableColumnGroupBox),
)  # fmt: skip


def mm(pixels: float) -> float:
    """CSS pixels in millimetres."""
    return pixels * 25.4 / 96


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle with its edges in reading order: left, top, right, bottom."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by: float) -> Rect:
        """The rectangle with a margin put around it."""
        return Rect(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def past(self, outer: Rect) -> tuple[float, str]:
        """By how much this sticks out of another at most, and past which edge."""
        return max(
            (outer.left - self.left, "left"),
            (outer.top - self.top, "top"),
            (self.right - outer.right, "right"),
            (self.bottom - outer.bottom, "bottom"),
        )

    def depth(self, zone: Rect) -> float:
        """How far this reaches into a zone: the shortest way out of it; 0 or less when it does not."""
        return min(self.right - zone.left, zone.right - self.left, self.bottom - zone.top, zone.bottom - self.top)


@dataclass(frozen=True, slots=True)
class Frame:
    """A box that its content must stay inside of."""

    rect: Rect
    name: str
    clips: bool = False


@dataclass(frozen=True, slots=True)
class Around:
    """What is around a box: its elements, what it must stay inside of, whether it flows or is head or foot."""

    matrix: Matrix | None
    path: tuple[Any, ...]
    frames: tuple[Frame, ...]
    flows: bool
    furniture: bool

    def inside(self, *tags: str) -> bool:
        """Whether one of these elements is around it."""
        return any(element.tag in tags for element in self.path)


@dataclass(frozen=True, slots=True)
class Ink:
    """One thing on paper. `kind` is text, picture, field, rule or tint."""

    kind: str
    rect: Rect
    around: Around
    words: str = ""


@dataclass(slots=True)
class Laid:
    """One page: its paper, its text area, what is on it, and where each element with a `data-keep-` mark lies.

    `faults` names what no page may have.
    """

    number: int
    paper: Rect
    area: Rect
    ink: list[Ink] = field(default_factory=list)
    marked: list[tuple[Any, Rect]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def laid(page: Page, number: int) -> Laid:
    """Read one laid-out page."""
    box = page._page_box
    paper = Rect(0, 0, page.width, page.height)
    left, top = box.content_box_x(), box.content_box_y()
    area = Rect(left, top, left + box.width, top + box.height)
    result = Laid(number, paper, area)
    for child in box.children:
        furniture = isinstance(child, boxes.MarginBox)
        _walk(child, Around(None, (), (), not furniture, furniture), result)
    return result


def _walk(box: Any, state: Around, result: Laid) -> None:
    if isinstance(box, AbsolutePlaceholder):
        box = box._box
    matrix = state.matrix
    if box.transformation_matrix:
        matrix = box.transformation_matrix @ matrix if matrix else box.transformation_matrix
    path = state.path
    if box.element is not None and (not path or path[-1] is not box.element):
        path = (*path, box.element)
        if any(name.startswith("data-keep-") for name in box.element.attrib):
            result.marked.append((box.element, _border_rect(box, matrix)))
    if box.is_input() and matrix:
        result.faults.append(f'field "{_title(box.element)}" is turned or scaled: fields stand upright')
    if box.style["opacity"] < 1:
        result.faults.append(
            f"<{box.element_tag}> has an opacity, which hides its text from readers: use a lighter colour"
        )
    frames, flows, furniture = state.frames, state.flows, state.furniture
    if box.style["position"] in ("absolute", "fixed"):
        frames, flows = (), False
        furniture = furniture or box.style["position"] == "fixed"
    now = Around(matrix, path, frames, flows, furniture)
    result.ink.extend(_ink(box, now))
    if _holds(box):
        clips = box.style["overflow"] != "visible"
        rect = _rect(matrix, box.padding_box_x(), box.padding_box_y(), box.padding_width(), box.padding_height())
        now = Around(matrix, path, (*frames, Frame(rect, _name(box), clips)), flows, furniture)
    if isinstance(box, boxes.ParentBox) and not box.is_input():  # a field's value is drawn by the form's own pass
        for child in box.children:
            _walk(child, now, result)


def _rect(matrix: Matrix | None, x: float, y: float, width: float, height: float) -> Rect:
    return Rect(*rectangle_aabb(matrix, x, y, width, height))


def _border_rect(box: Any, matrix: Matrix | None) -> Rect:
    if isinstance(box, boxes.TextBox | boxes.LineBox):
        return _rect(matrix, box.position_x, box.position_y, box.width, box.height)
    return _rect(matrix, *box.hit_area())


def _title(field: Any) -> str:
    """What a field is called on the paper."""
    return str(field.get("title") or field.get("name", ""))


def _name(box: Any) -> str:
    if isinstance(box, boxes.MarginBox):
        return "the running head" if box.at_keyword.startswith("@top") else "the running foot"
    return "its cell" if box.element_tag in ("td", "th") else "its place"


def _holds(box: Any) -> bool:
    """Whether content that leaves this box leaves the place made for it."""
    if box.is_for_root_element or isinstance(box, (*_TABLE_PARTS, boxes.LineBox, boxes.ReplacedBox)):
        return False
    if not isinstance(box, boxes.ParentBox) or type(box) is boxes.InlineBox or box.element_tag == "body":
        return False
    if isinstance(box, boxes.TableCellBox | boxes.MarginBox) or box.is_flex_item or box.is_grid_item:
        return True
    style = box.style
    sized = any(style[name] != "auto" for name in ("width", "height"))
    return sized or style["overflow"] != "visible" or style["max_height"].value != float("inf")


def _ink(box: Any, state: Around) -> Iterator[Ink]:
    """What the box itself draws, its children apart."""
    if box.style["visibility"] != "visible":
        return
    if isinstance(box, boxes.TextBox):
        if box.text.strip():
            size = box.style["font_size"]
            top = box.position_y + box.baseline - CAPITALS * size
            rect = _rect(state.matrix, box.position_x, top, box.width, (CAPITALS + DESCENDERS) * size)
            yield Ink("text", rect, state, " ".join(box.text.split()))
        return
    if isinstance(box, boxes.LineBox):
        return
    if box.is_input():
        yield Ink("field", _border_rect(box, state.matrix), state, _title(box.element))
    elif isinstance(box, boxes.ReplacedBox):
        rect = _rect(state.matrix, box.content_box_x(), box.content_box_y(), box.width, box.height)
        element = box.element
        said = element.get("alt") or element.findtext("{http://www.w3.org/2000/svg}title") or element.tag
        yield Ink("picture", rect, state, str(said))
    if not isinstance(box, (*_TABLE_PARTS, boxes.PageBox)) and not box.is_for_root_element:
        yield from (Ink("rule", rect, state) for rect in _rules(box, state.matrix))
        if get_color(box.style, "background_color").alpha > 0:
            yield Ink("tint", _border_rect(box, state.matrix), state)


def _rules(box: Any, matrix: Matrix | None) -> Iterator[Rect]:
    """The box's visible borders, one rectangle each."""
    if not (box.border_top_width or box.border_right_width or box.border_bottom_width or box.border_left_width):
        return
    x, y, width, height = box.hit_area()
    style = box.style
    for side in ("top", "bottom", "left", "right"):
        thick = getattr(box, f"border_{side}_width")
        drawn = thick and style[f"border_{side}_style"] not in ("none", "hidden")
        if not drawn or get_color(style, f"border_{side}_color").alpha == 0:
            continue
        if side in ("top", "bottom"):
            yield _rect(matrix, x, y + (height - thick if side == "bottom" else 0), width, thick)
        else:
            yield _rect(matrix, x + (width - thick if side == "right" else 0), y, thick, height)
