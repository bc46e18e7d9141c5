"""The finishing pass: what WeasyPrint's PDF lacks to be archival, accessible and fillable everywhere.

Each part is a module of its own; the reasons are in docs/decisions/press.md. Written against
WeasyPrint 70.0 and pydyf 0.13: the tests name, beside each mended thing, what would show that it may go.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from functools import cache
from importlib.resources import files

import pydyf
from weasyprint import Attachment, __version__
from weasyprint.document import Document
from weasyprint.pdf.metadata import DocumentMetadata

from docgen.press.finish_forms import finish_forms
from docgen.press.finish_tags import finish_tags
from docgen.press.meta import CREATOR, Attached, Meta
from docgen.press.objects import resolve
from docgen.press.qr import codes_drawing
from docgen.press.xmp import rdf

KEY = "sheet"


class ColourProfile:
    """What WeasyPrint needs to know of a colour profile, with the profile's own bytes."""

    name = "sRGB2014"
    components = ("r", "g", "b")

    def __init__(self) -> None:
        self.content = _profile()
        self.pdf_reference: bytes | None = None


@cache
def _profile() -> bytes:
    return files("weasyprint.pdf").joinpath("sRGB2014.icc").read_bytes()


PRODUCER = f"WeasyPrint {__version__}"
Also = Callable[[Document, pydyf.PDF], None]


def finish(
    document: Document, meta: Meta, attachments: Sequence[Attached], *, forms: bool, also: Also | None = None
) -> bytes:
    """Draw a laid-out document and return its bytes; `also` is a finishing pass of the caller's own."""
    document.metadata = SheetMetadata(meta)
    document.color_profiles, document.output_intent = {KEY: ColourProfile()}, KEY

    def finisher(document: Document, pdf: pydyf.PDF) -> None:
        _finish_attachments(pdf, attachments)
        _finish_pictures(pdf)
        finish_tags(document, pdf)
        _draw_codes(document, pdf)
        if forms:
            finish_forms(document, pdf, meta.identifier)
        if also:
            also(document, pdf)

    data: bytes = document.write_pdf(
        finisher=finisher,
        pdf_variant="pdf/a-3a",
        output_intent=KEY,
        pdf_identifier=meta.identifier.encode("ascii"),
        pdf_forms=forms,
        attachments=[_attachment(one, meta.created) for one in attachments],
    )
    return data


def _attachment(one: Attached, default: datetime) -> Attachment:
    return Attachment(
        string=one.data,
        name=one.name,
        description=one.description,
        relationship=one.relationship,
        created=(one.created or default).astimezone(UTC),
        modified=(one.modified or one.created or default).astimezone(UTC),
    )


def _finish_attachments(pdf: pydyf.PDF, attachments: Sequence[Attached]) -> None:
    """Give each file its stated media type, where WeasyPrint asks the machine's tables, and list it once."""
    streams = [
        item for item in pdf.objects if isinstance(item, pydyf.Stream) and item.extra.get("Type") == "/EmbeddedFile"
    ]
    for stream, one in zip(streams, attachments, strict=True):
        stream.extra["Subtype"] = "/" + one.media_type.replace("/", "#2f")
    if "AF" in pdf.catalog:
        pdf.catalog["AF"] = pydyf.Array(dict.fromkeys(pdf.catalog["AF"]))


def _draw_codes(document: Document, pdf: pydyf.PDF) -> None:
    """Draw the codes of numbered faces; they say nothing that their page does not print in letters as well."""
    for page, reference in zip(document.pages, pdf.page_references, strict=True):
        if codes := getattr(page, "codes", ()):
            resolve(pdf, resolve(pdf, reference)["Contents"]).stream.append(codes_drawing(codes))


def _finish_pictures(pdf: pydyf.PDF) -> None:
    """ISO 19005-3, 6.2.8: no picture is to be smoothed by the viewer."""
    for item in pdf.objects:
        if isinstance(item, pydyf.Stream) and item.extra.get("Subtype") == "/Image":
            item.extra["Interpolate"] = "false"


class SheetMetadata(DocumentMetadata):  # type: ignore[misc]
    """WeasyPrint's metadata, taken from a `Meta`, with our own RDF."""

    def __init__(self, meta: Meta) -> None:
        super().__init__(
            title=meta.title,
            authors=[meta.author] if meta.author else [],
            description=meta.subject or None,
            keywords=list(meta.keywords),
            generator=CREATOR,
            created=meta.stamp,
            modified=meta.stamp,
            lang=meta.language,
        )
        self._meta = meta

    def generate_rdf_metadata(self, variant: str, version: int, conformance: str) -> bytes:
        """Called by WeasyPrint when it writes the packet."""
        return rdf(self._meta, PRODUCER).encode()
