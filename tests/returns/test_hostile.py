"""Files that are damaged, locked, huge or would act by themselves: refused plainly, with the limits stated."""

from __future__ import annotations

import io
import os
import time
from collections.abc import Callable

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name, Pdf, String

from docgen.returns.diagnostic import Refused
from docgen.returns.form import MAX_BYTES, MAX_FIELDS, MAX_VALUE, Form, read_form
from docgen.returns.sandbox import Paper, Reader
from tests.returns.conftest import GOOD, Club
from tests.returns.papers import form_of, kinds, saved, with_fields


def refused(data: bytes) -> str:
    with pytest.raises(Refused) as caught:
        read_form(data)
    assert caught.value.said.hint
    return f"{caught.value.said.name}: {caught.value.said.message}"


def test_no_pdf_at_all() -> None:
    for data in (b"", b"hello", b"PK\x03\x04" + bytes(2000), bytes(2000) + b"%PDF-1.7"):
        assert refused(data) == "not-a-pdf: this is not a PDF"


def test_cut_short_or_damaged(club: Club) -> None:
    whole = form_of(club.sheet, GOOD)
    for data in (whole[: len(whole) // 2], whole[:-300], whole[:200], b"%PDF-1.7\n", whole.replace(b"xref", b"fxer")):
        assert refused(data) == "damaged-pdf: the file is damaged or cut short"


@settings(max_examples=60)
@given(draw=st.data())
def test_whatever_is_done_to_its_bytes_it_is_read_or_refused(club: Club, draw: st.DataObject) -> None:
    whole = bytearray(form_of(club.sheet, {}))
    for _ in range(draw.draw(st.integers(1, 20))):
        at = draw.draw(st.integers(0, len(whole) - 1))
        whole[at] = draw.draw(st.integers(0, 255))
    try:
        assert isinstance(read_form(bytes(whole)), Form)
    except Refused as refused:
        assert refused.said.weight == "refused"  # noqa: PT017  either is right


def test_locked(club: Club) -> None:
    locked = "encrypted-pdf: the file is locked with a password"
    for user in ("", "secret"):
        data = saved(lambda pdf: None, encryption=pikepdf.Encryption(owner="owner", user=user))
        assert refused(data) == locked


def test_too_large() -> None:
    assert (
        refused(b"%PDF-1.7\n" + bytes(MAX_BYTES))
        == "too-large: the file is 20 MB large; the most that is read is 20 MB"
    )

    def pages(pdf: Pdf) -> None:
        for _ in range(40):
            pdf.add_blank_page()

    assert refused(saved(pages)).startswith("too-large: the file has 41 pages and ")


def test_too_many_fields_and_too_long_values() -> None:
    def many(pdf: Pdf) -> None:
        with_fields(pdf, *(Dictionary(Subtype=Name.Widget, FT=Name.Tx, T=f"field-{n}") for n in range(MAX_FIELDS + 1)))

    def long(pdf: Pdf) -> None:
        with_fields(pdf, Dictionary(Subtype=Name.Widget, FT=Name.Tx, T="findings", V="x" * 10_001))

    assert refused(saved(many)) == "too-many-fields: the file has more than 2000 fields"
    assert refused(saved(long)) == (
        'value-too-long: field "findings" holds 10001 characters; the most that is read is 10000'
    )


def _action(**what: object) -> Callable[[Pdf], None]:
    return lambda pdf: setattr(pdf.Root, "OpenAction", Dictionary(**what))


def _in_field(pdf: Pdf) -> None:
    js = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))
    with_fields(pdf, Dictionary(Subtype=Name.Widget, FT=Name.Tx, T="a", AA=Dictionary(K=js)))


def _xfa(pdf: Pdf) -> None:
    pdf.Root.AcroForm = Dictionary(Fields=Array([]), XFA=String("<xdp/>"))


ACTS: dict[str, Callable[[Pdf], None]] = {
    "script on opening": _action(S=Name.JavaScript, JS=String("app.alert(1)")),
    "program on opening": _action(S=Name.Launch, F=String("calc.exe")),
    "sending the form": _action(S=Name.SubmitForm, F=String("http://example.invalid/")),
    "script in a field": _in_field,
    "form of another kind": _xfa,
    "script as a stream": lambda pdf: setattr(pdf.Root, "X", Dictionary(S=Name.JavaScript, JS=pdf.make_stream(b"1"))),
}


@pytest.mark.parametrize("act", ACTS)
def test_what_would_act_by_itself(act: str) -> None:
    assert refused(saved(ACTS[act])).startswith(
        "scripted-pdf: the file holds a script or something else that would act by itself: "
    )


def test_parents_in_a_ring_end() -> None:
    def ring(pdf: Pdf) -> None:
        one, two = pdf.make_indirect(Dictionary()), pdf.make_indirect(Dictionary())
        one.Parent, two.Parent = two, one
        with_fields(pdf, Dictionary(Subtype=Name.Widget, Parent=one))

    assert read_form(saved(ring)).fields == {"": ""}


def test_a_box_whose_picture_differs_from_its_data(club: Club) -> None:
    def differ(pdf: Pdf) -> None:
        widget = next(w for w in pdf.pages[0].obj.Annots if w.T == "looked-all")
        widget.AS = Name.Off

    form = read_form(form_of(club.sheet, GOOD, differ))
    assert form.unclear == ("looked-all",)
    assert form.fields["looked-all"] == "on"


def test_every_field_at_its_limit_reads_back(club: Club) -> None:
    long = ("Zoë Kőszegi – 鈴木一郎 \U0001f527 ½\r\n" * MAX_VALUE)[:MAX_VALUE]
    answers = {name: "on" if kind == "/Btn" else long for name, kind in kinds(club.sheet).items()}
    assert read_form(form_of(club.sheet, answers)).fields == answers


def test_a_file_that_breaks_the_reader_costs_no_other_file(club: Club) -> None:
    good = form_of(club.sheet, GOOD)
    late = "unreadable-pdf: the file could not be read within 1 s"
    broken = "unreadable-pdf: the file broke the part of the program that reads PDFs: it is damaged, or made to do that"
    for seconds, killer, arguments, told in ((60.0, os._exit, 3, broken), (1.0, time.sleep, 600, late)):
        with Reader(seconds=seconds) as reader:
            said = reader._ask(killer, arguments)  # type: ignore[arg-type]
            assert f"{said.name}: {said.message}" == told
    with Reader() as reader:
        assert reader.read(good) == Paper(read_form(good), ("",))


def test_a_bomb_of_compressed_bytes_does_not_take_the_machine_along() -> None:
    def bomb(pdf: Pdf) -> None:
        pdf.attachments["job.yaml"] = bytes(1024)
        stream = pdf.make_stream(bytes(300 * 1024 * 1024))
        pdf.attachments["job.yaml"].obj.EF = Dictionary(F=stream, UF=stream)

    data = saved(bomb, compress_streams=True)
    assert len(data) < 1024 * 1024
    with Reader() as reader, pytest.raises(Refused) as caught:
        reader.read(data)
    assert str(caught.value) == (
        "too-large: the job inside the file is larger than the 1048576 bytes that are read of it\n"
        "  to mend: our sheets hold a smaller one: fill the sheet as it was printed"
    )
    assert io.BytesIO(data).read(5) == b"%PDF-"
