"""A drawing that somebody brings along, as SVG: only plain shapes get through, and nothing that leads elsewhere.

Kept: g, path, line, polyline, polygon, rect, circle, ellipse, with sizes, strokes, fills and transforms. What editors
add for themselves is left out. Whatever else would be seen on the page is refused by its name and not left out in
silence: a drawing that lacks a piece is worse than none. The result names nothing outside itself.
"""

import re
from collections.abc import Iterator
from xml.etree import ElementTree

MAX_TEXT, MAX_SHAPES, MAX_DEPTH = 60_000, 1500, 12
"""Most characters, shapes, and shapes within shapes."""
WIDTH, HEIGHT = 92.0, 60.0
"""The largest that it is printed, mm."""

_SVG = "http://www.w3.org/2000/svg"
_NUMBER = re.compile(r"[-+]?(?:\d{1,6}(?:\.\d{0,20})?|\.\d{1,20})(?:e-?\d)?(?!\d)", re.IGNORECASE)
_BETWEEN = r"[\s,]*"
_BOX = re.compile(r"\s*" + r"[\s,]+".join([r"(-?[0-9]{1,7}(?:\.[0-9]{0,20})?)"] * 4) + r"\s*")
_SHAPES = {
    "g": (), "path": ("d",), "line": ("x1", "y1", "x2", "y2"), "polyline": ("points",), "polygon": ("points",),
    "rect": ("x", "y", "width", "height", "rx", "ry"), "circle": ("cx", "cy", "r"), "ellipse": ("cx", "cy", "rx", "ry"),
}  # fmt: skip
_UNSEEN = frozenset({"title", "desc", "metadata", "namedview"})
_COLOUR = r"none|black|white|#[0-9a-fA-F]{3}|#[0-9a-fA-F]{6}"
_PAINT = {
    "fill": _COLOUR, "stroke": _COLOUR, "stroke-width": "(px)?", "stroke-linecap": "butt|round|square",
    "stroke-linejoin": "miter|round|bevel", "stroke-dasharray": f"none|{_BETWEEN}", "fill-rule": "nonzero|evenodd",
}  # fmt: skip
_VALUES = {
    "d": r"[MmLlHhVvCcSsQqTtAaZz,\s]*",
    "transform": rf"(?:{_BETWEEN}(?:matrix|translate|scale|rotate|skewX|skewY)\({_BETWEEN}\))*{_BETWEEN}",
} | _PAINT
"""What is left of a value without its figures; a colour is left whole."""
_HIDING = frozenset({"clip-path", "mask", "filter", "display", "visibility", "opacity", "fill-opacity",
                     "stroke-opacity", "marker-start", "marker-mid", "marker-end"})  # fmt: skip
_HARMLESS = {"none", "inline", "visible", "1", "1.0"}


class SvgFault(ValueError):
    """Why a drawing is not taken: kebab-case name, what is wrong, what to do."""

    def __init__(self, name: str, message: str, hint: str = "draw it with plain lines and shapes only") -> None:
        super().__init__(message)
        self.name, self.message, self.hint = name, message, hint


def clean_svg(text: str) -> str:
    """The drawing as this program writes it, sized to fit WIDTH by HEIGHT.

    Errors: SvgFault ``drawing-too-large``, ``not-a-drawing``, ``drawing-declares``, ``drawing-without-box``,
    ``not-drawn-here``, ``bad-drawing-value``, ``empty-drawing``.

    >>> clean_svg('<svg viewBox="0 0 40 30" onload="x()"><path d="M0 0L4 3"/></svg>').partition("viewBox")[2]
    '="0 0 40 30"><g><path d="M0 0L4 3" /></g></svg>'
    """
    if len(text) > MAX_TEXT:
        raise SvgFault("drawing-too-large", f"the drawing has {len(text)} characters; the most is {MAX_TEXT}")
    if re.search(r"<!(?!--)|<\?(?!xml\s)", text):
        raise SvgFault("drawing-declares", "the drawing declares something of its own (<! or <?)", "take that line out")
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        raise SvgFault("not-a-drawing", f"this is not SVG: {error}", "paste the whole text of an .svg file") from None
    if _kind(root) != "svg":
        raise SvgFault("not-a-drawing", f"a drawing begins with <svg, not with <{_kind(root)[:20]}")
    box = _BOX.fullmatch(root.get("viewBox", ""))
    if box is None or not (1 <= float(box[3]) <= 1e5 and 1 <= float(box[4]) <= 1e5):
        raise SvgFault("drawing-without-box", "the drawing does not say how large it is",
                       'write viewBox="0 0 90 60" into its first line, with its own sizes')  # fmt: skip
    shapes = ElementTree.Element("g", _attributes(root, "g"))
    count = sum(_take(child, shapes, 1) for child in root)
    if not count:
        raise SvgFault("empty-drawing", "nothing is drawn in it", "paste the whole text of an .svg file")
    if count > MAX_SHAPES:
        raise SvgFault("drawing-too-large", f"the drawing has {count} shapes; the most is {MAX_SHAPES}")
    scale = min(WIDTH / float(box[3]), HEIGHT / float(box[4]))
    size = {"width": f"{float(box[3]) * scale:.2f}mm", "height": f"{float(box[4]) * scale:.2f}mm"}
    out = ElementTree.Element("svg", {"xmlns": _SVG, **size, "viewBox": " ".join(box.groups())})
    out.append(shapes)
    return ElementTree.tostring(out, "unicode")


def _take(shape: ElementTree.Element, into: ElementTree.Element, depth: int) -> int:
    """Copy what may be drawn; the number of shapes copied."""
    kind = _kind(shape)
    if kind in _UNSEEN or (kind == "defs" and not len(shape)):
        return 0
    if kind not in _SHAPES:
        raise SvgFault("not-drawn-here", f"a drawing may not hold <{kind[:20]}>", _hint(kind))
    if depth > MAX_DEPTH:
        raise SvgFault("drawing-too-large", f"shapes lie more than {MAX_DEPTH} deep within each other")
    copy = ElementTree.SubElement(into, kind, _attributes(shape, kind))
    return (kind != "g") + sum(_take(child, copy, depth + 1) for child in shape)


def _attributes(shape: ElementTree.Element, kind: str) -> dict[str, str]:
    allowed = {*_SHAPES[kind], "transform", *_PAINT}
    return {key: _checked(key, value) for key, value in _given(shape) if key in allowed}


def _given(shape: ElementTree.Element) -> Iterator[tuple[str, str]]:
    """The attributes, those of a style among them; what hides or changes what is seen is refused."""
    styled = (part.partition(":") for part in shape.get("style", "").split(";"))
    for key, value in (*shape.items(), *((key, value) for key, _, value in styled)):
        key, value = key.strip(), value.strip()
        if key in _HIDING and value not in _HARMLESS:
            raise SvgFault("not-drawn-here", f'a drawing may not use {key}="{value[:30]}"')
        if key == "display" and value == "none":
            raise SvgFault("not-drawn-here", "a drawing may not hide a part of itself", "take the hidden part out")
        yield key, value


def _checked(key: str, value: str) -> str:
    words = value if key in ("fill", "stroke") else _NUMBER.sub("", value)
    if not re.fullmatch(_VALUES.get(key, _BETWEEN + r"(?:px)?"), words):
        raise SvgFault("bad-drawing-value", f'a drawing may not say {key}="{value[:30]}"',
                       "plain figures and colours like #404040 only")  # fmt: skip
    return value


def _kind(shape: ElementTree.Element) -> str:
    """The element's name without its namespace; a comment has none."""
    return shape.tag.rpartition("}")[2] if isinstance(shape.tag, str) else "title"


def _hint(kind: str) -> str:
    if kind in ("text", "tspan"):
        return "turn its letters into paths, or say it in the step's text"
    if kind in ("use", "symbol", "defs", "linearGradient", "radialGradient", "pattern", "clipPath", "mask", "marker"):
        return "save it as plain SVG, with copies and gradients made into plain shapes"
    return "draw it with plain lines and shapes only"
