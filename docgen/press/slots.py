"""Where the values of a laid-out page stand, and what each may become without another layout.

The boxes tell: a value may be of another width where nothing stands beside it on that side, and where no box around it
takes its width from what it holds. Written against WeasyPrint 70.0; whatever is not as expected makes no slot, and what
is written is compared with what the library wrote (see ``formed``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from weasyprint.formatting_structure import boxes
from weasyprint.layout.absolute import AbsolutePlaceholder
from weasyprint.text.ffi import FROM_UNITS, ffi, pango
from weasyprint.text.line_break import create_layout

from docgen.press.fonts import main_characters
from docgen.press.form import Alphabet, Side, Slot

_OWN = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180)))) + "–—‘’“”…≤≥−"
"""Characters that values are made of: those of the languages written in Latin letters."""
_LEFT = ("start", "left", "justify")
_RIGHT = ("end", "right")


@dataclass(frozen=True)
class Found:
    """A text that is a value: its name, its box, and its slot, if it has one; the slot's ``face`` is set later."""

    name: str
    box: Any
    slot: Slot | None


def values_on(page_box: Any) -> Iterator[Found]:
    """Every text of a value on a page."""
    yield from _walk(page_box, ())


def _walk(box: Any, around: tuple[Any, ...]) -> Iterator[Found]:
    if isinstance(box, AbsolutePlaceholder):
        box = box._box
    if isinstance(box, boxes.TextBox):
        parent = around[-1]
        name = (
            parent.element.get("data-value") or parent.element.get("data-face") if parent.element is not None else None
        )
        if name and box.text and name != "of":  # "page 1 of 2" is the same on all that have as many pages
            whole = box.text == (parent.element.text or "")
            yield Found(name, box, _slot(name, box, around) if whole else None)
    elif isinstance(box, boxes.ParentBox):
        for child in box.children:
            yield from _walk(child, (*around, box))


def _slot(name: str, text: Any, around: Sequence[Any]) -> Slot | None:
    at = next((n for n in reversed(range(len(around))) if isinstance(around[n], boxes.LineBox)), 0)
    line, block = around[at], around[at - 1]
    if (
        not at
        or not block.children
        or text.style["direction"] != "ltr"
        or text.style["letter_spacing"] not in (0, "normal")
    ):
        return None
    if text.style["text_decoration_line"] != {"none"} and text.style["text_decoration_line"] != "none":
        return None
    on_line = list(_leaves(line))
    first, last = on_line[0] is text, on_line[-1] is text
    lines = [child for child in block.children if isinstance(child, boxes.LineBox)]
    if first and line is not lines[0]:
        return None  # a narrower one could have stood on the line before
    left, right = block.content_box_x(), block.content_box_x() + block.width
    side: Side = "same"
    room = text.width
    align = block.style["text_align_all"]
    if all(map(_plain, around[at + 1 :])) and _rigid(around[:at]):
        if align in _LEFT and last and line is lines[-1]:
            side, room = "start", right - text.position_x
        elif align in _RIGHT and first and len(lines) == 1:
            side, room = "end", text.position_x + text.width - left
        elif align == "center" and first and last and len(lines) == 1:
            side, room = "middle", right - left
    return Slot(name, text.position_x, text.position_y + text.baseline, text.width, room, side, 0)


def _leaves(box: Any) -> Iterator[Any]:
    for child in box.children:
        if isinstance(child, boxes.TextBox):
            if child.text.strip():
                yield child
        elif isinstance(child, boxes.InlineBox):
            yield from _leaves(child)
        else:
            yield child


def _plain(inline: Any) -> bool:
    """Whether an inline box is only its text: no frame or room of its own that would go along with its width."""
    sides = ("left", "right")
    return not any(
        getattr(inline, f"{what}_{side}{width}")
        for side in sides
        for what, width in (("margin", ""), ("padding", ""), ("border", "_width"))
    )


def _rigid(around: Sequence[Any]) -> bool:
    """Whether no box around takes its width from what is in it, and nothing floats beside the text."""
    for parent, box in zip((None, *around), around, strict=False):
        if isinstance(box, boxes.MarginBox):
            if box.style["width"] == "auto":
                return False
        elif isinstance(box, boxes.TableBox | boxes.InlineTableBox):
            if box.style["table_layout"] != "fixed" or box.style["width"] == "auto":
                return False
        elif isinstance(box, boxes.InlineBlockBox) or box.is_floated() or box.is_absolutely_positioned():
            if box.style["width"] == "auto":
                return False
        elif isinstance(box, boxes.FlexContainerBox | boxes.GridContainerBox):
            return False
        if parent is not None and any(child.is_floated() for child in getattr(parent, "children", ())):
            return False
    return not any(child.is_floated() for child in around[-1].children)


@cache
def _characters() -> str:
    return "".join(char for char in _OWN if char in main_characters() or char in " \u00a0")


def alphabet(stream: Any, style: Any) -> Alphabet:
    """How each character is shown in a style, and that its glyph is needed: the font's subset will hold it.

    As the library shows a text (its ``draw_first_line``), glyph by glyph.
    """
    text = _characters()
    layout = create_layout(text, style, None, None, 0)
    layout.reactivate(style)
    line, _ = layout.get_first_line()
    encoded = text.encode()
    found: dict[str, tuple[str, float]] = {}
    hashes = set()
    run = line.runs[0]
    while run != ffi.NULL:
        item, run = run.data, run.next
        glyphs, clusters = item.glyphs, item.glyphs.log_clusters
        font, size = stream.add_font(item.item.analysis.font)
        hashes.add(font.hash)
        if pango.pango_version() < 14802 or font.png:
            size = style["font_size"]
        for n, info in enumerate(glyphs.glyphs[0 : glyphs.num_glyphs]):
            begin = item.item.offset + clusters[n]
            end = item.item.offset + (clusters[n + 1] if n + 1 < glyphs.num_glyphs else item.item.length)
            char, place = encoded[begin:end].decode(), info.geometry
            if len(char) != 1 or info.glyph >= 0xFFFF or place.x_offset or place.y_offset:
                continue
            if info.glyph not in font.widths:
                pango.pango_font_get_glyph_extents(
                    item.item.analysis.font, info.glyph, stream.ink_rect, stream.logical_rect
                )
                font.widths[info.glyph] = round(stream.logical_rect.width * 1000 * FROM_UNITS / size)
            font.to_unicode.setdefault(info.glyph, char)
            kerning = font.widths[info.glyph] - place.width * 1000 * FROM_UNITS / size
            found[char] = (f"{info.glyph:04x}" + (f">{int(kerning)}<" if kerning else ""), place.width * FROM_UNITS)
    layout.deactivate()
    return found if len(hashes) == 1 else {}


def style_key(style: Any) -> tuple[object, ...]:
    """What tells one way of setting a text from another."""
    names = ("font_family", "font_size", "font_style", "font_weight", "font_stretch", "font_kerning",
             "font_variant_numeric", "font_variant_ligatures", "font_feature_settings", "lang")  # fmt: skip
    return tuple(repr(style[name]) for name in names)
