"""Faults of a laid-out page, found from its boxes before anything is drawn.

Content past the paper or the text area, or out of the box made for it; ink in a place that must stay clear; texts on
one another; a heading or a table head alone at the foot; a blank page; something kept together that is not. Only what
a reader of the paper would see counts: blanks, hidden text and the tall box that a font claims around its letters do
not.
"""

import re
from collections.abc import Iterator
from typing import Any

from weasyprint.document import Document

from docgen.press.meta import PX_PER_MM
from docgen.press.prepare import words
from docgen.press.rectangles import Frame, Ink, Laid, laid, mm

TOLERANCE = 0.2  # mm: less than a laser printer places a line by
_HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")
_KINDS = {
    "text": "a text", "picture": "a picture", "field": "a field", "rule": "a line", "tint": "a shaded area",
}  # fmt: skip
"""What ink without words is called."""


def page_faults(document: Document) -> list[str]:
    """Every fault of every page, page by page, one sentence each; empty when the pages are fit to print."""
    pages = [laid(page, number) for number, page in enumerate(document.pages, 1)]
    faults = []
    for page in pages:
        found = [*page.faults, *_outside(page), *_unclear(page)] or [*_overprinted(page)]
        if page is not pages[-1]:
            found += _alone_at_foot(page)
        found += _blank(page)
        faults += [f"page {page.number}: {fault}" for fault in dict.fromkeys(found)]
    return faults + list(_split(pages))


def _called(ink: Ink) -> str:
    said = ink.words if len(ink.words) <= 40 else ink.words[:37] + "..."
    what = {"text": "", "picture": "picture ", "field": "field "}[ink.kind]
    return f'{what}"{said}"'


def _outside(page: Laid) -> Iterator[str]:
    """Texts, pictures and fields that leave their box, the text area or the paper; the nearest one is named."""
    for ink in page.ink:
        if ink.kind not in ("text", "picture", "field"):
            continue
        if ink.kind == "field" and ink.around.furniture:
            yield f"{_called(ink)} stands in a running head or foot"
        frames = list(reversed(ink.around.frames))
        if ink.around.flows:
            frames.append(Frame(page.area, "the text area"))
        frames.append(Frame(page.paper, "the paper"))
        for frame in frames:
            by, edge = ink.rect.past(frame.rect)
            if mm(by) > TOLERANCE:
                verb = "is cut off" if frame.clips else "sticks out"
                yield f"{_called(ink)} {verb} by {mm(by):.1f} mm at the {edge} of {frame.name}"
                break


def _unclear(page: Laid) -> Iterator[str]:
    """Ink within `data-keep-clear` of an element that asks for it, its own content apart."""
    for element, rect in page.marked:
        value = element.get("data-keep-clear")
        if value is None:
            continue
        margin = re.fullmatch(r"(\d+(?:\.\d+)?) ?mm", value.strip())
        name = element.get("title") or words(element) or element.get("id") or _KINDS["text"]
        if margin is None:
            yield f'"{name}" has data-keep-clear="{value}": write a length in mm, such as "2 mm"'
            continue
        zone = rect.grown(float(margin[1]) * PX_PER_MM)
        reached: dict[str, float] = {}
        for ink in page.ink:
            if element in ink.around.path or (ink.kind == "tint" and zone.past(ink.rect)[0] <= 0):
                continue  # its own content, or one even tint behind the whole zone
            what = _called(ink) if ink.words else _KINDS[ink.kind]
            reached[what] = max(mm(ink.rect.depth(zone)), reached.get(what, 0))
        for what, depth in reached.items():
            if depth > TOLERANCE:
                yield f'{what} reaches {depth:.1f} mm into the clear space of "{name}"'


def _overprinted(page: Laid) -> Iterator[str]:
    """Texts that lie on texts or fields, by more than a third of a letter's height; fields on one another."""
    solid = sorted((ink for ink in page.ink if ink.kind in ("text", "field")), key=lambda ink: ink.rect.top)
    for at, upper in enumerate(solid):
        for lower in solid[at + 1 :]:
            if lower.rect.top >= upper.rect.bottom:
                break
            depth = lower.rect.depth(upper.rect)
            least = min(
                (mm(ink.rect.bottom - ink.rect.top) / 3 for ink in (upper, lower) if ink.kind == "text"), default=0
            )
            if mm(depth) > max(least, 2 * TOLERANCE):
                yield f"{_called(upper)} and {_called(lower)} lie {mm(depth):.1f} mm over one another"


def _alone_at_foot(page: Laid) -> Iterator[str]:
    """A heading, or a table's head or caption, in the lower half with nothing of what it heads below it.

    Higher up the rest of the page was left empty on purpose, by a break.
    """
    flowing = [ink for ink in page.ink if ink.around.flows and ink.kind in ("text", "picture", "field")]
    if not flowing or flowing[-1].rect.bottom < (page.area.top + page.area.bottom) / 2:
        return
    last = flowing[-1]
    if last.around.inside(*_HEADINGS):
        yield f"heading {_called(last)} stands alone at the foot"
    elif last.around.inside("thead", "caption"):
        yield f"table head {_called(last)} stands alone at the foot"


def _blank(page: Laid) -> Iterator[str]:
    if not any(not ink.around.furniture for ink in page.ink):
        yield "nothing is on it but running heads and feet"


def _split(pages: list[Laid]) -> Iterator[str]:
    """Elements with `data-keep-together` that lie on more than one page."""
    seen: dict[Any, list[int]] = {}
    for page in pages:
        for element, _ in page.marked:
            if "data-keep-together" in element.attrib:
                numbers = seen.setdefault(element, [])
                if page.number not in numbers:
                    numbers.append(page.number)
    for element, numbers in seen.items():
        if len(numbers) > 1:
            name = element.get("id") or element.get("data-keep-together") or element.tag
            yield f'pages {numbers[0]} and {numbers[1]}: "{name}" is split, but must stay together'
