"""Draws a laid-out document: with all that WeasyPrint lacks to be archival, accessible and fillable everywhere.

Written against WeasyPrint 70.0 and pydyf 0.13: the tests name, beside each thing that is done otherwise, what would
show that it may go.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from types import SimpleNamespace

import pydyf
from weasyprint import DEFAULT_OPTIONS
from weasyprint.document import Document
from weasyprint.pdf import generate_pdf
from weasyprint.pdf.metadata import DocumentMetadata

from docgen.press.formed import resolve
from docgen.press.formfields import finish_fields
from docgen.press.meta import Order
from docgen.press.tags import mark_furniture

KEY = "sheet"


@cache
def _profile() -> bytes:
    return files("weasyprint.pdf").joinpath("sRGB2014.icc").read_bytes()


def drawn(document: Document, order: Order) -> tuple[pydyf.PDF, list[int]]:
    """The objects of a laid-out document, and the numbers of those that tell of it (``metadata.parts_of``).

    These hold nothing yet: they differ from sheet to sheet. Raises PressError when a field is too small.
    """
    document.metadata = DocumentMetadata(lang=order.meta.language)
    profile = SimpleNamespace(name="sRGB2014", components="rgb", content=_profile(), pdf_reference=None)
    document.color_profiles, document.output_intent = {KEY: profile}, KEY
    options = {"pdf_variant": "pdf/a-3a", "pdf_version": "1.7", "output_intent": KEY, "pdf_forms": order.forms}
    mark_furniture(document)
    pdf = generate_pdf(document, None, 1, **{**DEFAULT_OPTIONS, **options})
    told = [_added(pdf), resolve(pdf, pdf.catalog["Metadata"]).number, *(_added(pdf) for _ in order.attachments)]
    _list_attachments(pdf, order, told[2:])
    if order.forms and "AcroForm" in pdf.catalog:
        told.append(_added(pdf))
        finish_fields(document, pdf, f"{told[-1]} 0 R".encode())
    return pdf, told


def _added(pdf: pydyf.PDF) -> int:
    pdf.add_object(item := pydyf.Dictionary())
    return int(item.number)


def _list_attachments(pdf: pydyf.PDF, order: Order, numbers: list[int]) -> None:
    """Each attached file by its name, and as the document's source (ISO 19005-3, 6.8)."""
    names, listed = pydyf.Array(), pydyf.Array()
    for one, number in sorted(zip(order.attachments, numbers, strict=True), key=lambda pair: pair[0].name):
        name = pydyf.String(one.name)
        pdf.add_object(file := pydyf.Dictionary({
            "Type": "/Filespec", "F": name, "UF": name, "EF": pydyf.Dictionary({"F": f"{number} 0 R"}),
            "Desc": pydyf.String(one.description), "AFRelationship": "/Source",
        }))  # fmt: skip
        names.extend((name, file.reference))
        listed.append(file.reference)
    if listed:
        pdf.catalog.setdefault("Names", pydyf.Dictionary())["EmbeddedFiles"] = pydyf.Dictionary({"Names": names})
        pdf.catalog["AF"] = listed
