"""Hostile PDFs that come back in the place of a filled sheet: all filed by one command, each answered by itself.

The club has printed one sheet, 7A-ROT-03-001, and issued another job for the same engine. The command reads PDFs in a
process of its own; one of the cases kills it, and the others are answered all the same.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Callable, Iterator, Mapping

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, String

from docgen.returns.allowlist import MAX_DEPTH
from docgen.returns.form import MAX_BYTES, MAX_FIELDS, MAX_OBJECTS, MAX_PAGES, MAX_VALUE
from tests.fuzz.found import BREAKS_QPDF
from tests.hostile.cases import Case, Place
from tests.returns.conftest import GOOD, Club, club_at
from tests.returns.papers import form_of, saved, with_fields

Make = Callable[[Club], bytes]
UNREAD: Mapping[str, str] = {**GOOD, "engine-hours": "some"}
"""A good sheet but for its hours, which nobody can read: shown, and not filed."""


def _raw(*objects: str | bytes, root: str = "1 0 R", header: bytes = b"%PDF-1.7\n") -> bytes:
    """A PDF written by hand from the text of its objects, numbered from 1."""
    out = bytearray(header)
    places = []
    for number, text in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n" % number + (text.encode("latin-1") if isinstance(text, str) else text) + b"\nendobj\n"
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % at for at in places)
    out += b"trailer\n<</Size %d/Root %s>>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, root.encode(), start)
    return bytes(out)


CATALOGUE, PAGES = "<</Type/Catalog/Pages 2 0 R>>", "<</Type/Pages/Kids[3 0 R]/Count 1>>"
PAGE = "<</Type/Page/Parent 2 0 R/Resources<<>>/MediaBox[0 0 9 9]%s>>"


def _stream(data: bytes, more: bytes = b"") -> bytes:
    return b"<</Length %d%s>>stream\n%s\nendstream" % (len(data), more, data)


def _bomb(club: Club) -> bytes:
    """A thousandfold: what is attached as the job unpacks to 64 MB."""

    def squeezed(pdf: Pdf) -> None:
        stream = pdf.make_stream(zlib.compress(bytes(64 << 20)) + bytes(1), Filter=Name.FlateDecode)
        pdf.attachments["job.yaml"].obj.EF = Dictionary(F=stream, UF=stream)

    return form_of(club.sheet, GOOD, squeezed)


def _object_stream(club: Club) -> bytes:
    """Objects inside a compressed stream that says it holds a hundred million of them."""
    packed = zlib.compress(b"4 0 " + b"<</JS(app.alert(1))>>" + b" " * 10_000_000)
    more = b"/Type/ObjStm/N 100000000/First 4/Filter/FlateDecode"
    return _raw(CATALOGUE, PAGES, PAGE % "", _stream(packed, more))


def _action(**what: object) -> Make:
    return lambda club: saved(lambda pdf: setattr(pdf.Root, "OpenAction", Dictionary(**what)))


def _root(key: str, make: Callable[[Pdf], object]) -> Make:
    return lambda club: saved(lambda pdf: setattr(pdf.Root, key, make(pdf)))


def _fields(*fields: Dictionary) -> Make:
    return lambda club: saved(lambda pdf: with_fields(pdf, *fields))


def _text(name: str, value: object) -> Dictionary:
    return Dictionary(Subtype=Name.Widget, FT=Name.Tx, T=name, V=value)


def _twice(pdf: Pdf) -> None:
    hidden = pdf.make_indirect(_text("measure-rotor-gap", String("0.45")))
    hidden.F = 2
    pdf.pages[0].obj.Annots.append(hidden)
    pdf.Root.AcroForm.Fields.append(hidden)


def _filled(changes: Mapping[str, str] | None = None, *more: Callable[[Pdf], None]) -> Make:
    return lambda club: form_of(club.sheet, {**UNREAD, **(changes or {})}, *more)


def _named(number: str) -> Make:
    """The good sheet under another number, in every place where it says which it is."""

    def rename(pdf: Pdf) -> None:
        pdf.Root.AcroForm.Fields[len(pdf.Root.AcroForm.Fields) - 1].V = String(number)
        pdf.docinfo["/Subject"] = number

    return lambda club: form_of(club.sheet, GOOD, rename)


def _without(pdf: Pdf) -> None:
    pdf.pages[0].obj.Annots = Array([one for one in pdf.pages[0].obj.Annots if not str(one.T).startswith("measure-")])


def _deep(pdf: Pdf) -> Array:
    inside: object = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))
    for _ in range(MAX_DEPTH + 5):
        inside = Array([inside])
    return inside  # type: ignore[return-value]


JS = {"S": Name.JavaScript, "JS": String("app.alert(1)")}
PAPERS: dict[str, Make] = {
    "pdf-malformed: nothing": lambda club: b"",
    "pdf-malformed: words": lambda club: b"hello",
    "pdf-malformed: a page of HTML": lambda club: b"<!doctype html><script>alert(1)</script>",
    "pdf-malformed: only a beginning": lambda club: b"%PDF-1.7\n",
    "pdf-malformed: cut in half": lambda club: (whole := form_of(club.sheet, GOOD))[: len(whole) // 2],
    "pdf-malformed: no end": lambda club: form_of(club.sheet, GOOD)[:-300],
    "pdf-malformed: pages that hold themselves": lambda club: _raw(CATALOGUE, "<</Type/Pages/Kids[2 0 R]/Count 9>>"),
    "pdf-malformed: no pages": lambda club: _raw("<</Type/Catalog>>"),
    "pdf-malformed: the catalogue is a page": lambda club: _raw(CATALOGUE, PAGES, PAGE % "", root="3 0 R"),
    "pdf-malformed: a root that is nowhere": lambda club: _raw(CATALOGUE, PAGES, PAGE % "", root="99 0 R"),
    "pdf-malformed: brackets a hundred thousand deep": lambda club: _raw(
        CATALOGUE, PAGES, PAGE % "", "[" * 100_000 + "]" * 100_000),
    "pdf-malformed: a stream longer than the file": lambda club: _raw(
        CATALOGUE, PAGES, PAGE % "/Contents 4 0 R", "<</Length 999999999>>stream\nx\nendstream"),
    "pdf-malformed: a table of objects in a ring": lambda club: _raw(CATALOGUE, PAGES, PAGE % "").replace(
        b"/Root", b"/Prev 0/Root"),
    "pdf-malformed: one that ends the library": lambda club: BREAKS_QPDF,
    "pdf-malformed: fields that are no list": _root("AcroForm", lambda pdf: Dictionary(Fields=String("x"))),
    "pdf-malformed: parents in a ring": lambda club: _raw(
        CATALOGUE, PAGES, PAGE % "/Annots[4 0 R]", "<</Subtype/Widget/Parent 5 0 R>>", "<</Parent 4 0 R>>"),
    "pdf-encrypted: a password to open it": lambda club: saved(
        lambda pdf: None, encryption=pikepdf.Encryption(owner="o", user="u")),
    "pdf-encrypted: none to open it": lambda club: saved(
        lambda pdf: None, encryption=pikepdf.Encryption(owner="o", user="")),
    "pdf-huge: a byte too many": lambda club: b"%PDF-1.7\n" + bytes(MAX_BYTES),
    "pdf-huge: a page too many": lambda club: saved(lambda pdf: [pdf.add_blank_page() for _ in range(MAX_PAGES)]),
    "pdf-huge: objects": lambda club: _raw(CATALOGUE, PAGES, PAGE % "", *("null" for _ in range(MAX_OBJECTS))),
    "pdf-huge: a bomb": _bomb,
    "pdf-huge: a stream of objects": _object_stream,
    "pdf-script: on opening": _action(**JS),
    "pdf-script: a program on opening": _action(S=Name.Launch, F=String("calc.exe")),
    "pdf-script: the form sent": _action(S=Name.SubmitForm, F=String("http://127.0.0.1:9/")),
    "pdf-script: data fetched": _action(S=Name.ImportData, F=String("file:///etc/passwd")),
    "pdf-script: another file opened": _action(S=Name.GoToE, F=String("x")),
    "pdf-script: in a field": _fields(
        Dictionary(Subtype=Name.Widget, FT=Name.Tx, T="a", AA=Dictionary(K=Dictionary(**JS)))),
    "pdf-script: in a list of names": _root(
        "Names", lambda pdf: Dictionary(JavaScript=Dictionary(Names=Array([String("a"), Dictionary(**JS)])))),
    "pdf-script: written with codes": lambda club: _raw(
        "<</Type/Catalog/Pages 2 0 R/OpenAction<</#53/J#61vaScript/J#53(1)>>>>", PAGES, PAGE % ""),
    "pdf-script: as a stream": _root("X", lambda pdf: Dictionary(S=Name.JavaScript, JS=pdf.make_stream(b"1"))),
    "pdf-script: nested deep": _root("X", _deep),
    "pdf-script: a form of another kind": _root(
        "AcroForm", lambda pdf: Dictionary(Fields=Array([]), XFA=String("<xdp/>"))),
    "pdf-fields: one too many": _fields(*(_text(f"f{n}", String("")) for n in range(MAX_FIELDS + 1))),
    "pdf-fields: one name ten thousand times": _fields(*(_text("f", String("")) for n in range(10_000))),
    "pdf-fields: a value too long": _fields(_text("findings", String("x" * (MAX_VALUE + 1)))),
    "pdf-fields: a name too long": _fields(_text("n" * 5000, String("x"))),
    "pdf-fields: values that are no text": _fields(
        _text("a", Array([1, 2])), _text("b", Dictionary(A=1)), _text("c", 3)),
    "pdf-fields: one name with two values": _filled(None, _twice),
    "pdf-fields: a few of them missing": _filled(None, _without),
    "pdf-other-sheet: fields of another job": lambda club: saved(lambda pdf: with_fields(
        pdf, *(_text(f"tighten-other-nut-{n}_initials", String("AB")) for n in range(40)), _text(
            "docgen-print", String("7A-ROT-03-001-S1")))),
    "pdf-other-sheet: another engine's number": _named("8B-ROT-03-001-S1"),
    "pdf-other-sheet: an engine that is not here": _named("99-ROT-03-001-S1"),
    "pdf-other-sheet: a print that never was": _named("7A-ROT-03-777-S1"),
    "pdf-other-sheet: a checklist": _named("7A-ROT-03-001-C1"),
    "pdf-other-sheet: a path for a number": _named("../../../etc/passwd"),
    "pdf-other-sheet: two numbers": _filled(
        None, lambda pdf: pdf.docinfo.__setitem__("/Subject", "8B-ROT-03-001-S1")),
    "pdf-other-sheet: another job inside": lambda club: form_of(club.sheet, GOOD, job="issue_digest: none\n"),
    "pdf-other-sheet: a job with a bomb inside": lambda club: form_of(
        club.sheet, GOOD, job="a: &a [x]\nb: &b [*a,*a,*a,*a]\n" * 9),
    "pdf-words: an escape to the terminal": _filled({"done-by": "Bo\x1b]0;owned\x07\x1b[2J"}),
    "pdf-words: turned round": _filled({"done-by": "Bo\u202e321"}),
    "pdf-words: a null byte": _filled({"findings": "a\x00b"}),
    "pdf-words: YAML": _filled({"findings": "none\nevent: owner\nhours: 0 h # &a *a !!int"}),
    "pdf-words: YAML, filed": lambda club: form_of(
        club.sheet, {**GOOD, "findings": "none: [\n- event: owner\nhours: 0 h # &a *a !!int"}),
    "pdf-words: HTML": _filled({"findings": "<script>alert(1)</script>"}),
    "pdf-words: a reading in other digits": _filled({"measure-rotor-gap": "\u0660.\u0663\u0660"}),
    "pdf-words: a reading turned round": _filled({"measure-rotor-gap": "0.3\u202e0"}),
    "pdf-words: a reading of nine thousand digits": _filled({"measure-rotor-gap": "0." + "3" * 9000}),
    "pdf-words: an hour count like a power": _filled({"engine-hours": "9e999999"}),
}  # fmt: skip


def _answers(place: Place) -> dict[str, str]:
    kept = place.root / "tmp" / "papers.json"
    if not kept.is_file():
        club = club_at(place.club)
        files = {}
        for number, (key, make) in enumerate(PAPERS.items()):
            path = place.root / "tmp" / f"{number:02d}.pdf"
            path.write_bytes(make(club))
            files[key] = path
        said = place.docgen("file", "--yes", "--on", "2030-04-10", *files.values(), short=False)
        told = {}
        for key, path in files.items():
            _, _, rest = said.partition(f"\n{place.plain(str(path))}\n")
            told[key] = re.split(r"\nPLACE/tmp/|\n\n\d+ (?:not )?filed", rest)[0].strip("\n") or said
        told["last"] = re.findall(r"\n\d+ [^\n]*filed\.", said)[-1].strip()
        written = [path.read_text("utf-8") for path in place.club.glob("engines/*/log/*.yaml")]
        told["pdf-words: YAML, filed"] = _plain("\n".join((told["pdf-words: YAML, filed"], *written)).strip())
        kept.write_text(json.dumps(told), encoding="utf-8")
    found: dict[str, str] = json.loads(kept.read_text("utf-8"))
    return found


def _plain(text: str) -> str:
    """Without digests, which follow from everything that the sheet says."""
    return re.sub(r"[0-9a-f]{12,64}", "(digest)", text)


def _cases() -> Iterator[Case]:
    for key in PAPERS:
        vector, _, name = key.partition(": ")
        yield Case(vector, name, lambda place, key=key: _answers(place)[key])
    yield Case("pdf-malformed", "all of them together", lambda place: _answers(place)["last"])


CASES = tuple(_cases())
