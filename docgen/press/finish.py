"""Draws a laid-out document: with all that WeasyPrint lacks to be archival, accessible and fillable everywhere.

Written against WeasyPrint 70.0 and pydyf 0.13: the tests name, beside each thing that is done otherwise, what would
show that it may go.
"""

from importlib.resources import files
from types import SimpleNamespace
from typing import Any

import pydyf
from weasyprint import DEFAULT_OPTIONS
from weasyprint.document import Document, Page
from weasyprint.pdf import generate_pdf
from weasyprint.pdf.metadata import DocumentMetadata

from docgen.press.casting import resolve
from docgen.press.meta import KIND, PT_PER_PX, Order
from docgen.press.tags import mark_furniture

KEY = "sheet"


def drawn(document: Document, order: Order) -> tuple[pydyf.PDF, list[int]]:
    """The objects of a laid-out document, and the numbers of those that tell of it (``metadata.parts_of``).

    These hold nothing yet: they differ from sheet to sheet.
    """
    document.metadata = DocumentMetadata(lang=order.language)
    colours = files("weasyprint.pdf").joinpath("sRGB2014.icc").read_bytes()
    profile = SimpleNamespace(name="sRGB2014", components="rgb", content=colours, pdf_reference=None)
    document.color_profiles, document.output_intent = {KEY: profile}, KEY
    options = {"pdf_variant": "pdf/a-3a", "pdf_version": "1.7", "output_intent": KEY, "pdf_forms": order.forms}
    mark_furniture(document)
    pdf = generate_pdf(document, None, 1, **{**DEFAULT_OPTIONS, **options})
    told = [_added(pdf), resolve(pdf, pdf.catalog["Metadata"]).number, *(_added(pdf) for _ in order.attachments)]
    _list_attachments(pdf, order, told[2:])
    if order.forms and "AcroForm" in pdf.catalog:
        told.append(_added(pdf))
        _finish_fields(document, pdf, f"{told[-1]} 0 R".encode())
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


def _finish_fields(document: Document, pdf: pydyf.PDF, hidden: bytes) -> None:
    """Mend rectangles, appearances, states and fonts of fields, so that every viewer shows the same.

    Fields are printed empty (see ``prepare``): a viewer draws what is written into them, in the face that each names.
    The last one, `hidden`, names the print.
    """
    form = pdf.catalog["AcroForm"]
    form.pop("NeedAppearances")  # PDF/A-3 forbids it (ISO 19005-3, 6.4.1); the appearances are all here
    form["Fields"].append(hidden)
    fonts = resolve(pdf, resolve(pdf, form["DR"])["Font"])
    used = form["DR"] = pydyf.Dictionary({"Font": pydyf.Dictionary()})
    drawings: dict[tuple[float, float, bytes], bytes] = {}  # each written once: a sheet has hundreds of few sizes

    def appearance(width: float, height: float, drawn: bytes) -> bytes:
        key = (round(width, 2), round(height, 2), drawn)
        if key not in drawings:
            box = pydyf.Array((0, 0, *key[:2]))
            extra = {"Type": "/XObject", "Subtype": "/Form", "BBox": box, "Resources": pydyf.Dictionary()}
            pdf.add_object(stream := pydyf.Stream([drawn], extra))
            drawings[key] = stream.reference
        return drawings[key]

    inputs = ((page, box) for page in document.pages for each in page.forms.values() for box, _ in each)
    for page, box in inputs:
        field = box.widget_annotation
        left, bottom, right, top = field["Rect"] = _rectangle(page, box)
        size = right - left, top - bottom
        if field["FT"] == "/Btn":
            state = box.element.get("value") or "on"
            field["AS"] = field["V"] = "/Off"
            states = {state: appearance(*size, _tick(*size)), "Off": appearance(*size, b"")}
            field["AP"] = pydyf.Dictionary({"N": pydyf.Dictionary(states)})
            del field["MK"], field["Border"]
            continue
        # WeasyPrint's default appearance is such as `/a1 gs 0 0 0 rg /ABCDEF 9 Tf`.
        *_, key, points, _ = field["DA"].string.split()
        used["Font"][key[1:].decode()] = fonts[key[1:].decode()]
        field["DA"] = pydyf.String(b"0 g %b %b Tf" % (key, points))
        if align := {"center": 1, "right": 2, "end": 2}.get(box.style["text_align_all"]):
            field["Q"] = align
        if box.element.get("type") == "date":
            field[KIND] = "/date"
        field["AP"] = pydyf.Dictionary({"N": appearance(*size, b"/Tx BMC EMC")})


def _rectangle(page: Page, box: Any) -> pydyf.Array:
    """The outline that is printed around a field, in points from the page's lower left corner."""
    left, top = box.border_box_x(), box.border_box_y()
    right, bottom = left + box.border_width(), top + box.border_height()
    corners = (left, page.height - bottom, right, page.height - top)
    return pydyf.Array(round(value * PT_PER_PX, 4) for value in corners)


def _tick(width: float, height: float) -> bytes:
    """A tick that fills the middle of its box, stroked so that it stays clear at any size."""
    side = min(width, height)
    left, bottom = (width - side) / 2, (height - side) / 2
    points = (f"{left + x * side:.2f} {bottom + y * side:.2f}" for x, y in ((0.2, 0.5), (0.42, 0.25), (0.8, 0.78)))
    return "q {:.2f} w 1 J 1 j 0 G {} m {} l {} l S Q".format(side * 0.11, *points).encode()
