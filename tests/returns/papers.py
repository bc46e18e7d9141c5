"""PDFs made by hand: a form with the fields of a sheet, without any page to look at."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from typing import Any

import pikepdf

from docgen.job.issue import frozen
from docgen.press.meta import PRINT_FIELD
from docgen.returns.identity import IssuedSheet
from docgen.returns.layout import sections

Change = Callable[[pikepdf.Pdf], None]


def kinds(sheet: IssuedSheet) -> dict[str, str]:
    """Each field of a sheet, and whether it is a tick box ("/Btn") or takes text ("/Tx")."""
    rows = [row for section in sections(sheet.job) for row in section.rows]
    return {f.name: "/Btn" if f.kind == "checkbox" else "/Tx" for row in rows for f in row.fields}


def form_of(sheet: IssuedSheet, answers: Mapping[str, str], *changes: Change, job: str | None = None) -> bytes:
    """The sheet as a filled form; `changes` are made to the document before it is saved."""
    document = pikepdf.new()
    page = document.add_blank_page()
    made = [document.make_indirect(_widget(name, kind, answers.get(name, ""))) for name, kind in kinds(sheet).items()]
    hidden = pikepdf.Dictionary(FT=pikepdf.Name.Tx, T=PRINT_FIELD, V=sheet.number.body)
    page.obj.Annots = pikepdf.Array(made)
    document.Root.AcroForm = pikepdf.Dictionary(Fields=pikepdf.Array([*made, document.make_indirect(hidden)]))
    document.docinfo["/Subject"] = sheet.number.body
    document.attachments["job.yaml"] = (frozen(sheet.job) if job is None else job).encode()
    for change in changes:
        change(document)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


def saved(change: Change, **options: Any) -> bytes:
    """An empty document, changed and saved."""
    document = pikepdf.new()
    document.add_blank_page()
    change(document)
    out = io.BytesIO()
    document.save(out, **options)
    return out.getvalue()


def with_fields(document: pikepdf.Pdf, *fields: pikepdf.Dictionary) -> None:
    """Put fields into an empty document."""
    made = pikepdf.Array(document.make_indirect(field) for field in fields)
    document.pages[0].obj.Annots = made
    document.Root.AcroForm = pikepdf.Dictionary(Fields=made)


def _widget(name: str, kind: str, value: str) -> pikepdf.Dictionary:
    widget = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.Widget, FT=pikepdf.Name(kind), T=name, Rect=[0, 0, 9, 9]
    )
    if kind == "/Btn":
        widget.V = widget.AS = pikepdf.Name.on if value else pikepdf.Name.Off
    elif value:
        widget.V = pikepdf.String(value)
    return widget
