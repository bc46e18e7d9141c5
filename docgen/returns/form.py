"""A filled PDF as plain data: its fields, and what it says that it is. Nothing in it is trusted, run or followed.

The limits are far above anything that a sheet needs, so that whatever passes them is not one of ours.
"""

import io
import re
import zlib
from dataclasses import dataclass, field
from typing import Any

import pikepdf

from docgen.press.meta import PRINT_FIELD
from docgen.returns.allowlist import JOB, refuse_others
from docgen.returns.diagnostic import Refused

MAX_BYTES = 20 * 1024 * 1024
MAX_PAGES, MAX_FIELDS, MAX_VALUE, MAX_OBJECTS = 40, 2000, 10_000, 60_000
MAX_JOB = 1024 * 1024
NUMBER = re.compile(r"(?<![A-Z0-9-])[A-Z0-9]{1,6}-[A-Z]{3}-\d{2,4}-\d{3,5}-[A-Z]\d{1,2}-[A-Z0-9](?![A-Z0-9-])")
_BROKEN = (pikepdf.PdfError, zlib.error, ValueError, TypeError, KeyError, AttributeError, RecursionError, OverflowError)


@dataclass(frozen=True)
class Form:
    """What a PDF holds.

    fields   : each field's text by its name; a tick box's is "on" or empty
    names    : what the file says which sheet it is, by where it says so
    job      : the text of the job attached to it, empty where there is none
    unclear  : tick boxes whose picture and data differ
    """

    fields: dict[str, str]
    names: dict[str, str] = field(default_factory=dict)
    job: str = ""
    unclear: tuple[str, ...] = ()
    pages: int = 0


def read_form(data: bytes) -> Form:
    """Read a PDF's form.

    Errors: Refused ``too-large``, ``not-a-pdf``, ``damaged-pdf``, ``encrypted-pdf``, ``scripted-pdf``,
    ``strange-pdf``, ``too-many-fields``, ``value-too-long``, ``too-deep``, ``field-twice``.
    """
    if len(data) > MAX_BYTES:
        message = f"the file is {len(data) / 1048576:.0f} MB large; the most that is read is {MAX_BYTES // 1048576} MB"
        raise Refused("too-large", message, "a filled sheet is smaller than 2 MB: look whether this is one")
    if b"%PDF-" not in data[:1024]:
        raise Refused("not-a-pdf", "this is not a PDF", "give the filled sign-off sheet as it was saved by the viewer")
    try:
        with pikepdf.open(io.BytesIO(data), attempt_recovery=False, suppress_warnings=True) as document:
            found = _read(document)
            if document.get_warnings():
                raise ValueError
            return found
    except pikepdf.PasswordError:
        raise _encrypted() from None
    except _BROKEN:
        hint = "save it again from the viewer, or copy it again"
        raise Refused("damaged-pdf", "the file is damaged or cut short", hint) from None


def _encrypted() -> Refused:
    return Refused("encrypted-pdf", "the file is locked with a password", "save it without one, and file that")


def _read(document: pikepdf.Pdf) -> Form:
    if document.is_encrypted:
        raise _encrypted()
    if len(document.objects) > MAX_OBJECTS or len(document.pages) > MAX_PAGES:
        most = f"the most that is read is {MAX_PAGES} pages and {MAX_OBJECTS} parts"
        message = f"the file has {len(document.pages)} pages and {len(document.objects)} parts; {most}"
        raise Refused("too-large", message, "give one filled sheet a file")
    refuse_others(document)
    fields: dict[str, str] = {}
    unclear: list[str] = []
    every = (one for page in document.pages for one in page.obj.get("/Annots", ()))
    widgets = (one for one in every if isinstance(one, pikepdf.Dictionary) and one.get("/Subtype") == "/Widget")
    for count, widget in enumerate(widgets, 1):
        if count > MAX_FIELDS:
            message = f"the file has more than {MAX_FIELDS} fields"
            raise Refused("too-many-fields", message, "give one filled sheet a file")
        _take(widget, fields, unclear)
    return Form(fields, _names(document), _job(document), tuple(unclear), len(document.pages))


def _take(widget: Any, fields: dict[str, str], unclear: list[str]) -> None:
    name = str(_own(widget, "/T"))
    if str(_own(widget, "/FT")) == "/Btn":
        value, shown = str(_own(widget, "/V")), str(widget.get("/AS", ""))
        ticked = value not in ("", "/Off")
        if shown and ticked != (shown != "/Off"):
            unclear.append(name)
        text = "on" if ticked else ""
    else:
        given = _own(widget, "/V")
        text = str(given) if isinstance(given, (str, pikepdf.String)) else ""
    if len(text) > MAX_VALUE or len(name) > 200:
        message = f'field "{name[:60]}" holds {len(text)} characters; the most that is read is {MAX_VALUE}'
        raise Refused("value-too-long", message, "shorten it, and keep the rest as a file of its own")
    if fields.setdefault(name, text) != text:
        hint = "one of them was put in behind the other: fill the sheet as it was printed, or type it in"
        raise Refused("field-twice", f'field "{name}" stands in the file twice, with different values', hint)


def _own(widget: Any, key: str) -> Any:
    """An entry of a field, which a program that saved the file may have moved to the widget's parents."""
    for _ in range(8):
        if key in widget:
            return widget[key]
        if "/Parent" not in widget:
            break
        widget = widget["/Parent"]
    return ""


def _names(document: pikepdf.Pdf) -> dict[str, str]:
    found = {}
    form: Any = document.Root.get("/AcroForm", {})
    for one in form.get("/Fields", ()):
        if str(one.get("/T", "")) == PRINT_FIELD:
            found["its hidden field"] = str(one.get("/V", ""))
    identity: Any = document.trailer.get("/ID", ())
    if len(identity):
        found["its file identifier"] = bytes(identity[0]).decode("latin-1")
    found["its subject"] = str(document.docinfo.get("/Subject", "")) if "/Info" in document.trailer else ""
    return {where: text.strip()[:60] for where, text in found.items() if text.strip()}


def _job(document: pikepdf.Pdf) -> str:
    if JOB not in document.attachments:
        return ""
    data = _unpacked(document.attachments[JOB].get_file().obj)
    if len(data) > MAX_JOB:
        message = f"the job inside the file is larger than the {MAX_JOB} bytes that are read of it"
        raise Refused("too-large", message, "our sheets hold a smaller one: fill the sheet as it was printed")
    return data.decode("utf-8", "replace")


def _unpacked(stream: Any) -> bytes:
    """A stream's bytes; of the usual packing no more than are wanted, however much is packed into few."""
    flate = pikepdf.Name.FlateDecode
    if stream.get("/Filter") in (flate, pikepdf.Array([flate])) and "/DecodeParms" not in stream:
        return zlib.decompressobj().decompress(stream.read_raw_bytes(), MAX_JOB + 1)
    return bytes(stream.read_bytes())


def visible_numbers(data: bytes) -> tuple[str, ...]:
    """What has the form of a sheet number on each page, page by page; a page without one gives an empty text.

    Errors: whatever PDFium raises on a file that it cannot read.
    """
    import pypdfium2

    document = pypdfium2.PdfDocument(data)
    try:
        texts = (document[at].get_textpage().get_text_bounded() for at in range(min(len(document), MAX_PAGES)))
        return tuple((NUMBER.findall(text) or [""])[-1] for text in texts)
    finally:
        document.close()
