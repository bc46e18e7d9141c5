"""Filling a printed sheet in: by a program on its data, and by a viewer's engine as a person would see it."""

from __future__ import annotations

import io
from collections.abc import Mapping

import pikepdf
import pymupdf


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
