"""Filling a printed sheet in: by a program on its data, and by the engines of two viewers, one of them by hand."""

from __future__ import annotations

import ctypes
import io
from collections.abc import Mapping

import pikepdf
import pymupdf
import pypdfium2
from pypdfium2 import raw

from docgen.press.fields import boxes

POINT = 72 / 25.4
"""Points to the millimetre."""


def filled(pdf: bytes, answers: Mapping[str, str]) -> bytes:
    """The sheet with its fields set by pikepdf; every name must be a field of it."""
    left = dict(answers)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            for widget in page.obj.get("/Annots", ()):
                text = left.pop(str(widget.get("/T", "")), None)
                if text is None:
                    continue
                if widget.FT == "/Btn":
                    widget.V = widget.AS = pikepdf.Name.on if text else pikepdf.Name.Off
                else:
                    widget.V = pikepdf.String(text)
        assert left == {}, "no such fields"
        out = io.BytesIO()
        document.save(out)
    return out.getvalue()


def filled_in_viewer(pdf: bytes, answers: Mapping[str, str]) -> bytes:
    """The sheet filled and saved by MuPDF, which draws each field anew and appends to the file as tablets do."""
    left = dict(answers)
    with pymupdf.open(stream=pdf) as document:
        for page in document:
            for widget in page.widgets():
                text = left.pop(widget.field_name, None)
                if text is None:
                    continue
                widget.field_value = bool(text) if widget.field_type == pymupdf.PDF_WIDGET_TYPE_CHECKBOX else text
                widget.update()
        assert left == {}, "no such fields"
        return bytes(document.tobytes())


def filled_by_hand(pdf: bytes, answers: Mapping[str, str]) -> bytes:
    """The sheet filled in PDFium, Chromium's engine: a click on the middle of each field, as printed, then typing."""
    left = dict(answers)
    with pypdfium2.PdfDocument(pdf) as document:
        document.init_forms()
        fields = boxes(pdf)
        for number in range(len(document)):
            page = document[number]
            for box in fields:
                if box.page == number + 1 and (text := left.pop(box.name, "")):
                    left_mm, top, width, height = box.mm
                    middle = (left_mm + width / 2) * POINT, page.get_height() - (top + height / 2) * POINT
                    _typed(document.formenv.raw, page.raw, box.kind, middle, text)
        out = io.BytesIO()
        document.save(out)
    assert left == {}, "no such fields"
    return out.getvalue()


def _typed(form: object, page: object, kind: str, middle: tuple[float, float], text: str) -> None:
    x, y = middle
    raw.FORM_OnMouseMove(form, page, 0, x, y)
    raw.FORM_OnLButtonDown(form, page, 0, x, y)
    raw.FORM_OnLButtonUp(form, page, 0, x, y)
    if kind != "tick":
        typed = (text + "\0").encode("utf-16-le")
        raw.FORM_SelectAllText(form, page)
        raw.FORM_ReplaceSelection(form, page, (ctypes.c_ushort * (len(typed) // 2)).from_buffer_copy(typed))
    raw.FORM_ForceToKillFocus(form)
