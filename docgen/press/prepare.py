"""The parsed page before layout: what must be there, what is taken out, and the text that needs glyphs."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache
from html import unescape
from xml.etree.ElementTree import Element

import tinycss2

from docgen.press.meta import PRINT_FIELD

SVG = "{http://www.w3.org/2000/svg}"
_REFUSED = (
    *("link", "base", "script", "style", "iframe", "embed", "object", "form", "button", "select", "video", "audio"),
    "canvas",
    *(f"{SVG}{name}" for name in ("style", "script", "foreignObject", "a")),
)
_FIELDS = ("input", "textarea")
_KINDS = ("checkbox", "date", "text")
_NAME = re.compile(r"[A-Za-z0-9_-]+")


@lru_cache(maxsize=64)
def css_text(css: str) -> str:
    """Every character that a style sheet could print: its strings and their escapes."""
    found: list[str] = []

    def collect(tokens: list[tinycss2.ast.Node]) -> None:
        for token in tokens:
            if token.type == "string":
                found.append(token.value)
            for part in ("content", "arguments", "prelude"):
                collect(getattr(token, part, None) or [])

    collect(tinycss2.parse_stylesheet(css, skip_comments=True))
    # Declarations are nested in blocks that the top-level parser leaves as tokens, so they are walked as well.
    return "".join(found)


def page_text(root: Element) -> str:
    """Every character that the page could print."""
    found: list[str] = []
    for element in root.iter():
        if isinstance(element.tag, str) and element.tag not in ("title", "head"):
            found.append(element.text or "")
        found.append(element.tail or "")
    return "".join(found)


def words(element: Element, limit: int = 40) -> str:
    """The text of an element, for a message."""
    text = " ".join(unescape("".join(element.itertext())).split())
    return text if len(text) <= limit else text[: limit - 3] + "..."


def prepare(root: Element, drawings: Iterable[Element] = (), *, language: str) -> list[str]:
    """Clean the parsed page in place and return what is wrong with it and its drawings, one sentence a fault."""
    root.set("lang", language)
    faults: list[str] = []
    for element in root.iter("a"):
        if not element.get("href", "").startswith("#"):
            element.tag = "span"
            for name in ("href", "rel", "download"):
                element.attrib.pop(name, None)
    for part in (root, *drawings):
        faults += _refused_faults(part)
    faults += _heading_faults(root)
    faults += _picture_faults(root)
    faults += _field_faults(root)
    return faults


def _refused_faults(root: Element) -> Iterator[str]:
    for element in root.iter():
        if element.tag in _REFUSED:
            name = element.tag.removeprefix(SVG)
            yield f"<{name}> has no place on paper: CSS goes to the press by itself, pictures are assets"
        if element.tag == f"{SVG}use" and not _target(element).startswith("#"):
            yield f'a drawing uses "{_target(element)}": it may use only parts of itself, as in href="#part"'


def _target(element: Element) -> str:
    return element.get("href") or element.get("{http://www.w3.org/1999/xlink}href") or ""


def _heading_faults(root: Element) -> Iterator[str]:
    """ISO 14289-1, 7.4.2: the first heading is H1 and no level is skipped on the way down."""
    last = 0
    for element in root.iter():
        if isinstance(element.tag, str) and re.fullmatch("h[1-6]", element.tag):
            level = int(element.tag[1])
            if level > last + 1:
                before = f"h{last}" if last else "the start"
                yield f'heading "{words(element)}" is {element.tag} but follows {before}: use h{last + 1}'
            last = level


def _picture_faults(root: Element) -> Iterator[str]:
    for element in root.iter():
        if element.tag == "img" and not element.get("alt", "").strip():
            yield f'picture "{element.get("src", "")}" has no alternative text: give it alt="..."'
        elif element.tag == f"{SVG}svg":
            first = element.find(f"{SVG}title")
            if first is None or not (first.text or "").strip():
                yield "a drawing has no alternative text: give its <svg> a <title> with text"


def _field_faults(root: Element) -> Iterator[str]:
    names: Counter[str] = Counter()
    for element in root.iter():
        if element.tag not in _FIELDS:
            continue
        kind = element.get("type", "text") if element.tag == "input" else element.tag
        name = element.get("name", "")
        if element.tag == "input" and kind not in _KINDS:
            yield f'field "{name}" is of type {kind}: use {", ".join(_KINDS)} or textarea'
        if not _NAME.fullmatch(name):
            yield f'a {kind} field is named "{name}": use letters, digits, "_" and "-"'
        if name == PRINT_FIELD:
            yield f'field "{name}" has the name of the press\'s own field'
        if kind == "checkbox" and not re.fullmatch(r"(?!Off$)[A-Za-z0-9_-]+", element.get("value", "on")):
            yield f'tick "{name}" has the value "{element.get("value")}": use letters, digits, "_" and "-"'
        if (kind != "checkbox" and (element.get("value") or element.text)) or "checked" in element.attrib:
            yield f'field "{name}" is filled in: fields are printed empty'
        names[name] += 1
        if not element.get("title", "").strip():
            yield f'field "{name}" has no title: say what goes into it'
        element.attrib.pop("placeholder", None)
    for name, count in names.items():
        if name and count > 1:
            yield f'{count} fields are named "{name}": each needs a name of its own'
