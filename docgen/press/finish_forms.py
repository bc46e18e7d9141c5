"""Mends the form: rectangles, appearances, states, fonts and flags, so that every viewer shows the same."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pydyf
from weasyprint.document import Document, Page

from docgen.press.appearance import FieldFont, choice, tick, writing
from docgen.press.errors import PressError
from docgen.press.objects import KIND, PRINT_FIELD, PT_PER_PX, resolve

READ_ONLY, REQUIRED = 1, 2


def finish_forms(document: Document, pdf: pydyf.PDF, identifier: str) -> None:
    """Mend every field, and add the hidden one that names the print."""
    form = pdf.catalog.get("AcroForm")
    if form is None:
        return
    form.pop("NeedAppearances", None)  # PDF/A-3 forbids it (ISO 19005-3, 6.4.1); the appearances are all here
    fonts = resolve(pdf, resolve(pdf, form["DR"])["Font"])
    used: dict[str, FieldFont] = {}
    drawings = _Drawings(pdf)
    faults: list[str] = []
    for page, box in _inputs(document):
        field, element = box.widget_annotation, box.element
        field["Rect"] = rectangle(page, box)
        width, height = field["Rect"][2] - field["Rect"][0], field["Rect"][3] - field["Rect"][1]
        flags = int(field.get("Ff", 0))
        flags |= REQUIRED if "required" in element.attrib else 0
        flags |= READ_ONLY if "readonly" in element.attrib or "disabled" in element.attrib else 0
        if flags:
            field["Ff"] = flags
        if field["FT"] == "/Btn":
            _finish_tick(drawings, field, element, width, height)
            continue
        key, size = _font_key(field["DA"].string)
        if key not in used:
            used[key] = FieldFont(next(font for font in document.fonts.values() if font.hash == key))
        try:
            _finish_writing(drawings, field, box, (key, used[key], fonts[key]), size, width, height)
        except PressError as error:
            faults += [f'field "{element.get("title")}": {fault}' for fault in error.faults]
    if faults:
        raise PressError(faults)
    form["DR"] = pydyf.Dictionary({"Font": pydyf.Dictionary({key: fonts[key] for key in used})})
    hidden = pydyf.Dictionary(
        {"FT": "/Tx", "T": pydyf.String(PRINT_FIELD), "V": pydyf.String(identifier), "Ff": READ_ONLY}
    )
    pdf.add_object(hidden)
    form["Fields"].append(hidden.reference)


def rectangle(page: Page, box: Any) -> pydyf.Array:
    """The outline that is printed around a field, in points from the page's lower left corner."""
    left, top = box.border_box_x(), box.border_box_y()
    right, bottom = left + box.border_width(), top + box.border_height()
    corners = (left, page.height - bottom, right, page.height - top)
    return pydyf.Array(round(value * PT_PER_PX, 4) for value in corners)


def _inputs(document: Document) -> Iterator[tuple[Page, Any]]:
    for page in document.pages:
        for inputs in page.forms.values():
            for box, _ in inputs:
                if box.widget_annotation:
                    yield page, box


def _font_key(da: bytes) -> tuple[str, float]:
    """The font's name and size from WeasyPrint's default appearance, such as `/a1 gs 0 0 0 rg /ABCDEF 9 Tf`."""
    parts = da.split()
    at = parts.index(b"Tf")
    return parts[at - 2].decode().lstrip("/"), float(parts[at - 1])


def _finish_tick(drawings: _Drawings, field: pydyf.Dictionary, element: Any, width: float, height: float) -> None:
    state = "/" + (element.get("value") or "on")
    for name in ("MK", "Border"):
        field.pop(name, None)
    field["AS"] = field["V"] = state if "checked" in element.attrib else "/Off"
    normal = pydyf.Dictionary({state[1:]: drawings.form(width, height, tick(width, height))})
    normal["Off"] = drawings.form(width, height, b"")
    field["AP"] = pydyf.Dictionary({"N": normal})


def _finish_writing(
    drawings: _Drawings,
    field: pydyf.Dictionary,
    box: Any,
    font: tuple[str, FieldFont, bytes],
    size: float,
    width: float,
    height: float,
) -> None:
    key, face, reference = font
    align = {"center": 1, "right": 2, "end": 2}.get(box.style["text_align_all"], 0)
    if field["FT"] == "/Tx" and align:
        field["Q"] = align
    if box.element.get("type") == "date":
        field[KIND] = "/date"
    field["DA"] = pydyf.String(f"0 g /{key} {size:g} Tf".encode())
    if field["FT"] == "/Ch":
        text = choice(field)
    else:
        text = str(field["V"].string)
    lines = box.element.tag == "textarea"
    drawing = writing(text, key, face, size, width, height, align=align, lines=lines)
    field["AP"] = pydyf.Dictionary({"N": drawings.form(width, height, drawing, {key: reference})})


class _Drawings:
    """The drawings of the fields, each kind written once: a sheet has hundreds of empty boxes of few sizes."""

    def __init__(self, pdf: pydyf.PDF) -> None:
        self._pdf = pdf
        self._known: dict[tuple[object, ...], bytes] = {}

    def form(self, width: float, height: float, drawing: bytes, fonts: dict[str, bytes] | None = None) -> bytes:
        """A form XObject of the given size in points; its reference."""
        size = (round(width, 2), round(height, 2))
        key = (*size, drawing, *(fonts or {}).items())
        if key not in self._known:
            resources = pydyf.Dictionary({"Font": pydyf.Dictionary(fonts)} if fonts else {})
            extra = {"Type": "/XObject", "Subtype": "/Form", "BBox": pydyf.Array((0, 0, *size)), "Resources": resources}
            stream = pydyf.Stream([drawing], extra, compress=False)
            self._pdf.add_object(stream)
            self._known[key] = stream.reference
        return self._known[key]
