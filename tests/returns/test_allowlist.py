"""A filled sheet may hold what we print and what viewers add; whatever else there is, known or unknown, is refused."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from pikepdf import Array, AttachedFileSpec, Dictionary, Name, Pdf, String

from docgen.returns.diagnostic import Refused
from docgen.returns.form import read_form
from tests.returns.conftest import GOOD, Club
from tests.returns.papers import form_of

Change = Callable[[Pdf], None]
JS = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))


def root(key: str, value: Callable[[Pdf], Any]) -> Change:
    return lambda pdf: pdf.Root.__setitem__(f"/{key}", value(pdf))


def page(key: str, value: Any) -> Change:
    return lambda pdf: pdf.pages[0].obj.__setitem__(f"/{key}", value)


def field(key: str, value: Any) -> Change:
    return lambda pdf: pdf.pages[0].obj.Annots[0].__setitem__(f"/{key}", value)


def form(key: str, value: Any) -> Change:
    return lambda pdf: pdf.Root.AcroForm.__setitem__(f"/{key}", value)


def on_page(**entries: Any) -> Change:
    def put(pdf: Pdf) -> None:
        pdf.pages[0].obj.Annots.append(pdf.make_indirect(Dictionary(Rect=[0, 0, 9, 9], **entries)))

    return put


def act(kind: str, **entries: Any) -> Dictionary:
    return Dictionary(S=Name(f"/{kind}"), **entries)


def hidden_act(pdf: Pdf) -> None:
    """An action in a place of its own, with a parent as a part of the tag tree has one."""
    pdf.Root.StructTreeRoot = Dictionary(K=pdf.make_indirect(Dictionary(S=Name.Launch, F=String("calc"), P=pdf.Root)))


def outline(pdf: Pdf) -> None:
    first = Dictionary(Title=String("x"), A=act("URI", URI=String("x:")))
    pdf.Root.Outlines = Dictionary(First=pdf.make_indirect(first))


def attach(name: str) -> Change:
    def put(pdf: Pdf) -> None:
        pdf.attachments[name] = AttachedFileSpec(pdf, b"MZ")

    return put


def embedded_beside(pdf: Pdf) -> None:
    """A second file that the list of attachments does not name."""
    spec = Dictionary(Type=Name.Filespec, F=String("a.exe"), EF=Dictionary(F=pdf.make_stream(b"MZ")))
    pdf.Root.AF = Array([pdf.make_indirect(spec)])


def stream_elsewhere(pdf: Pdf) -> None:
    pdf.Root.PieceInfo = Dictionary(X=pdf.make_stream(b"", F=String("/etc/passwd")))


def form_of_another(pdf: Pdf) -> None:
    made = pdf.make_stream(b"", Subtype=Name.Form, Ref=Dictionary(F=String("other.pdf"), Page=0))
    pdf.pages[0].obj.Resources = Dictionary(XObject=Dictionary(X=made))


REFUSED: dict[str, tuple[Change, str]] = {
    "script when it is opened": (root("OpenAction", lambda _: JS), "scripted-pdf"),
    "jump when it is opened": (root("OpenAction", lambda _: act("GoToR", F=String("x"))), "scripted-pdf"),
    "program when it is opened": (root("OpenAction", lambda _: act("Launch", F=String("calc"))), "scripted-pdf"),
    "unknown action when it is opened": (root("OpenAction", lambda _: act("Dance")), "scripted-pdf"),
    "scripts by name": (root("Names", lambda _: Dictionary(JavaScript=Dictionary(Names=["x", JS]))), "scripted-pdf"),
    "empty list of scripts": (root("Names", lambda _: Dictionary(JavaScript=Dictionary())), "strange-pdf"),
    "acts of the document": (root("AA", lambda _: Dictionary(WC=act("Named", N=Name.Print))), "scripted-pdf"),
    "base of addresses": (root("URI", lambda _: Dictionary(Base=String("http://example.invalid"))), "scripted-pdf"),
    "threads": (root("Threads", lambda _: Array([])), "strange-pdf"),
    "portfolio": (root("Collection", lambda _: Dictionary()), "strange-pdf"),
    "requirements": (root("Requirements", lambda _: Array([])), "strange-pdf"),
    "layers": (root("OCProperties", lambda _: Dictionary()), "strange-pdf"),
    "rights": (root("Perms", lambda _: Dictionary()), "strange-pdf"),
    "what nobody knows": (root("Gadget", lambda _: Dictionary()), "strange-pdf"),
    "acts of a page": (page("AA", Dictionary(O=act("GoTo", D=Array([])))), "scripted-pdf"),
    "empty acts of a page": (page("AA", Dictionary()), "scripted-pdf"),
    "a slide show": (page("Trans", Dictionary(S=Name.Fade)), "strange-pdf"),
    "turning by itself": (page("Dur", 1), "strange-pdf"),
    "navigation": (page("PresSteps", Dictionary()), "strange-pdf"),
    "beads": (page("B", Array([])), "strange-pdf"),
    "act of a field": (field("A", act("ResetForm")), "scripted-pdf"),
    "unknown act of a field": (field("A", act("Dance")), "strange-pdf"),
    "acts of a field": (field("AA", Dictionary(K=JS)), "scripted-pdf"),
    "field that sends": (field("A", act("SubmitForm", F=String("http://example.invalid"))), "scripted-pdf"),
    "field that reads a file": (field("A", act("ImportData", F=String("x.fdf"))), "scripted-pdf"),
    "field that hides": (field("A", act("Hide", T=String("findings"))), "scripted-pdf"),
    "field that prints": (field("A", act("Named", N=Name.Print)), "scripted-pdf"),
    "field that turns a layer on": (field("A", act("SetOCGState", State=Array([]))), "scripted-pdf"),
    "order of reckoning": (form("CO", Array([])), "strange-pdf"),
    "XFA": (form("XFA", String("<xdp/>")), "scripted-pdf"),
    "link": (on_page(Subtype=Name.Link, Dest=Array([])), "strange-pdf"),
    "link to a site": (on_page(Subtype=Name.Link, A=act("URI", URI=String("http://example.invalid"))), "scripted-pdf"),
    "film": (on_page(Subtype=Name.Movie, Movie=Dictionary(F=String("x.avi"))), "scripted-pdf"),
    "film without a file": (on_page(Subtype=Name.Movie), "strange-pdf"),
    "sound": (on_page(Subtype=Name.Sound), "strange-pdf"),
    "screen": (on_page(Subtype=Name.Screen), "strange-pdf"),
    "rendition": (on_page(Subtype=Name.Screen, A=act("Rendition", OP=0)), "scripted-pdf"),
    "rich media": (on_page(Subtype=Name.RichMedia), "strange-pdf"),
    "solid figure": (on_page(Subtype=Name("/3D"), **{"3DD": Dictionary()}), "scripted-pdf"),
    "file on a page": (on_page(Subtype=Name.FileAttachment, FS=Dictionary(F=String("x"))), "scripted-pdf"),
    "redaction": (on_page(Subtype=Name.Redact), "strange-pdf"),
    "watermark": (on_page(Subtype=Name.Watermark), "strange-pdf"),
    "printer's mark": (on_page(Subtype=Name.PrinterMark), "strange-pdf"),
    "a kind that nobody knows": (on_page(Subtype=Name.Gadget), "strange-pdf"),
    "no kind at all": (on_page(), "strange-pdf"),
    "act among the tags": (hidden_act, "scripted-pdf"),
    "act of an outline": (outline, "scripted-pdf"),
    "another file inside": (attach("program.exe"), "strange-pdf"),
    "a file inside that no list names": (embedded_beside, "strange-pdf"),
    "a part in another file": (stream_elsewhere, "scripted-pdf"),
    "a page of another file": (form_of_another, "scripted-pdf"),
}
ALLOWED: dict[str, Change] = {
    "nothing more": lambda pdf: None,
    "where it opens": root("OpenAction", lambda pdf: Array([pdf.pages[0].obj, Name.Fit])),
    "pen strokes": on_page(Subtype=Name.Ink, InkList=Array([[0, 0, 9, 9]]), C=Array([0, 0, 1]), T=String("Ada")),
    "typewriter text": on_page(Subtype=Name.FreeText, Contents=String("0.30"), DA=String("/F 9 Tf"), DS=String("")),
    "note": on_page(Subtype=Name.Text, Contents=String("?"), Name=Name.Note, Open=False),
    "marker": on_page(Subtype=Name.Highlight, QuadPoints=Array([0, 0, 9, 0, 0, 9, 9, 9])),
    "stamp": on_page(Subtype=Name.Stamp, Name=Name.Approved),
    "crossed out": on_page(Subtype=Name.Line, L=Array([0, 0, 9, 9])),
    "some program's own": on_page(Subtype=Name.Ink, InkList=Array([]), **{"AAPL:AKExtras": Dictionary(Version=1)}),
    "flags of signing": form("SigFlags", 3),
    "drawn anew by the viewer": form("NeedAppearances", True),
    "when it was changed": page("LastModified", String("D:20300401")),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_no_list_allows_is_refused(club: Club, what: str) -> None:
    change, name = REFUSED[what]
    with pytest.raises(Refused) as caught:
        read_form(form_of(club.sheet, GOOD, change))
    assert (caught.value.said.weight, caught.value.said.name) == ("refused", name), str(caught.value)
    hint = "our sheets hold no such thing: fill the sheet as it was printed, in another viewer"
    assert caught.value.said.hint == hint


@pytest.mark.parametrize("what", ALLOWED)
def test_what_viewers_add_is_taken(club: Club, what: str) -> None:
    found = read_form(form_of(club.sheet, GOOD, ALLOWED[what]))
    assert {name: text for name, text in found.fields.items() if text} == GOOD
    assert found.job != ""
