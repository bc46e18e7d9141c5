"""Where the fields of a finished PDF are: the one description of a sheet's layout, read from the sheet itself."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

import pikepdf

from docgen.press.meta import KIND

Kind = Literal["tick", "text", "date"]
_MM = 25.4 / 72


@dataclass(frozen=True)
class FieldBox:
    """One field on paper.

    `mm` is left, top, width, height of its printed outline, in millimetres from the page's top left corner. Pages
    count from 1.
    """

    page: int
    name: str
    kind: Kind
    mm: tuple[float, float, float, float]
    value: str


def boxes(pdf: bytes) -> list[FieldBox]:
    """Every field of a PDF with its place, in page order and, on a page, in reading order.

    A tick's `value` is "" when it is empty. Errors: pikepdf.PdfError when the bytes are no PDF.
    """
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [box for number, page in enumerate(document.pages, 1) for box in _on_page(number, page)]


def _on_page(number: int, page: pikepdf.Page) -> Iterator[FieldBox]:
    left, _, _, top = (float(value) for value in page.mediabox)
    for widget in page.obj.get("/Annots", ()):
        if widget.get("/Subtype") != "/Widget":
            continue
        x1, y1, x2, y2 = (float(value) for value in widget.Rect)
        x1, x2, y1, y2 = min(x1, x2), max(x1, x2), min(y1, y2), max(y1, y2)
        place = ((x1 - left) * _MM, (top - y2) * _MM, (x2 - x1) * _MM, (y2 - y1) * _MM)
        kind = _kind(widget)
        value = str(_own(widget, "/V"))
        if kind == "tick":
            value = "" if value == "/Off" else value.lstrip("/")
        yield FieldBox(
            page=number,
            name=str(_own(widget, "/T")),
            kind=kind,
            mm=tuple(round(side, 3) for side in place),  # type: ignore[arg-type]
            value=value,
        )


def _own(widget: Any, key: str) -> Any:
    """An entry of a field, which a program that saved the file may have moved to the widget's parent."""
    if key in widget:
        return widget[key]
    return _own(widget["/Parent"], key) if "/Parent" in widget else ""


def _kind(widget: Any) -> Kind:
    kind = _own(widget, "/FT")
    if kind == "/Btn":
        return "tick"
    return "date" if _own(widget, f"/{KIND}") == "/date" else "text"
