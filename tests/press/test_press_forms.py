"""The fields of a finished form, as other programs read, draw and fill them: pypdf, poppler, mupdf, pikepdf."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import numpy as np
import pikepdf
import pymupdf
import pypdf
import pytest

from docgen.press.fields import FieldBox, boxes
from docgen.press.meta import PRINT_FIELD, Pressed, PressError

# Everything stands at a stated place, so that what is read back can be reckoned by hand.
NAMES = ("torque", "on", "done", "void", "oil", "notes")
PLACED = "input, textarea { position: absolute; font-size: 10pt; margin: 0 }"
FORM = """<h1>Form</h1>
<input name="torque" title="Torque of the clutch nut" style="left: 0; top: 20mm; width: 30mm; height: 6mm">
<input type="date" name="on" title="Date" style="left: 40mm; top: 20mm; width: 30mm; height: 6mm; text-align: right">
<input type="checkbox" name="done" title="Nut tight" value="ok" style="left: 0; top: 30mm; width: 6mm; height: 6mm">
<input type="checkbox" name="void" title="Row void" style="left: 10mm; top: 30mm; width: 6mm; height: 6mm">
<input name="oil" title="Dry or oiled" style="left: 40mm; top: 30mm; width: 30mm; height: 6mm; text-align: center">
<textarea name="notes" title="Notes" style="left: 0; top: 40mm; width: 40mm; height: 15mm"></textarea>"""


def print_identifier(pdf: bytes) -> str | None:
    """The identifier that the press wrote into a form, or None when there is none."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        fields = document.Root.get("/AcroForm", {}).get("/Fields", ())
        return next((str(one.V) for one in fields if str(one.get("/T", "")) == PRINT_FIELD), None)


@pytest.fixture
def form(page: Callable[..., Pressed]) -> bytes:
    return page(FORM, PLACED, forms=True).pdf


def test_boxes_are_where_they_are_printed(form: bytes) -> None:
    def pt(*sides: float) -> Any:
        return pytest.approx([side * 72 / 25.4 for side in sides], abs=0.01)

    found = boxes(form)
    assert [(box.page, box.name, box.kind, box.value) for box in found] == [
        (1, "torque", "text", ""),
        (1, "on", "date", ""),
        (1, "done", "tick", ""),
        (1, "void", "tick", ""),
        (1, "oil", "text", ""),
        (1, "notes", "text", ""),
    ]
    # The paper is 100 x 80 mm with margins of 10 mm; mm count from the top left, points from the bottom left.
    assert [box.mm for box in found] == [
        pytest.approx((10, 30, 30, 6), abs=0.01),
        pytest.approx((50, 30, 30, 6), abs=0.01),
        pytest.approx((10, 40, 6, 6), abs=0.01),
        pytest.approx((20, 40, 6, 6), abs=0.01),
        pytest.approx((50, 40, 30, 6), abs=0.01),
        pytest.approx((10, 50, 40, 15), abs=0.01),
    ]
    with pikepdf.open(io.BytesIO(form)) as document:
        rects = [[float(side) for side in widget.Rect] for widget in document.pages[0].obj.Annots]
    assert (rects[0], rects[5]) == (pt(10, 44, 40, 50), pt(10, 15, 50, 30))
    assert print_identifier(form) == "007-CLU-4-1"


def test_boxes_lie_on_the_printed_outlines(form: bytes, raster: Callable[..., np.ndarray]) -> None:
    pixels = raster(form, 508)  # 20 dots a millimetre
    found = [box for box in boxes(form) if box.kind == "tick"]
    assert len(found) == 2
    for box in found:
        left, top, width, height = (value * 20 for value in box.mm)
        across = np.flatnonzero(pixels[round(top + height * 0.1), :] < 128)
        near = across[(across > left - 10) & (across < left + width + 10)]
        assert [near[0], near[-1]] == pytest.approx([left, left + width], abs=2)  # a tenth of a millimetre


def test_boxes_of_later_pages_and_of_files_without_a_form(page: Callable[..., Pressed]) -> None:
    two = '<h1>A</h1><p>b</p><p style="break-before: page"><input name="x" title="X"></p>'
    assert [(box.page, box.name) for box in boxes(page(two, forms=True).pdf)] == [(2, "x")]
    plain = page(two).pdf
    assert (boxes(plain), print_identifier(plain)) == ([], None)
    with pytest.raises(pikepdf.PdfError):
        boxes(b"not a PDF")


def test_pypdf_reads_the_same_fields(form: bytes) -> None:
    fields = pypdf.PdfReader(io.BytesIO(form)).get_fields() or {}
    assert {name: (field["/FT"], field.get("/V"), field.get("/TU")) for name, field in fields.items()} == {
        "torque": ("/Tx", "", "Torque of the clutch nut"),
        "on": ("/Tx", "", "Date"),
        "done": ("/Btn", "/Off", "Nut tight"),
        "void": ("/Btn", "/Off", "Row void"),
        "oil": ("/Tx", "", "Dry or oiled"),
        "notes": ("/Tx", "", "Notes"),
        "docgen-print": ("/Tx", "007-CLU-4-1", None),
    }
    assert {name: field.get("/Ff", 0) for name, field in fields.items()} == {
        "torque": 0,
        "on": 0,
        "done": 0,
        "void": 0,
        "oil": 0,
        "notes": 1 << 12,  # several lines
        "docgen-print": 1,
    }
    assert fields["done"]["/_States_"] == ["/ok", "/Off"]
    assert fields["void"]["/_States_"] == ["/on", "/Off"]


def test_every_widget_has_its_whole_appearance(form: bytes) -> None:
    with pikepdf.open(io.BytesIO(form)) as document:
        acroform = document.Root.AcroForm
        widgets = list(document.pages[0].obj.Annots)
        assert len(widgets) == 6
        assert [int(widget.get("/Q", 0)) for widget in widgets] == [0, 2, 0, 0, 1, 0]
        for widget in widgets:
            assert list(widget.AP.keys()) == ["/N"]
            states = list(widget.AP.N.values()) if widget.FT == "/Btn" else [widget.AP.N]
            width, height = widget.Rect[2] - widget.Rect[0], widget.Rect[3] - widget.Rect[1]
            assert float(width) > 0
            assert float(height) > 0
            for state in states:
                assert [float(value) for value in state.BBox] == pytest.approx(
                    [0, 0, float(width), float(height)], abs=0.01
                )
            assert int(widget.F) == 4  # printed, and nothing else
            assert int(widget.StructParent) >= 1
        assert sorted(acroform.keys()) == ["/DR", "/Fields"]
        assert list(acroform.DR.keys()) == ["/Font"]
        (font,) = acroform.DR.Font.values()
        data = font.DescendantFonts[0].FontDescriptor.FontFile2
        assert str(font.BaseFont).endswith("+Field")
        assert len(data.read_raw_bytes()) < 16_000
        assert [str(widget.DA) for widget in widgets if "/DA" in widget] == [
            f"0 g {key} 10 Tf" for key in acroform.DR.Font
        ] * 4


def _seen_by_mupdf(pdf: bytes) -> np.ndarray:
    with pymupdf.open(stream=pdf) as document:
        picture = document[0].get_pixmap(dpi=254, colorspace=pymupdf.csGRAY, annots=True)
        return np.frombuffer(picture.samples, np.uint8).reshape(picture.height, picture.stride)[:, : picture.width]


def _inside(pixels: np.ndarray, box: FieldBox) -> float:
    """The share of ink within a box's outline; pixels are a tenth of a millimetre."""
    left, top, width, height = (round(value * 10) for value in box.mm)
    return float((pixels[top + 5 : top + height - 5, left + 5 : left + width - 5] < 128).mean())


def test_two_viewers_show_empty_fields_and_a_tick_that_is_put_in(
    form: bytes, raster: Callable[..., np.ndarray]
) -> None:
    for drawn in (raster, lambda pdf, _: _seen_by_mupdf(pdf)):
        assert {box.name: _inside(drawn(form, 254), box) for box in boxes(form)} == dict.fromkeys(NAMES, 0)
        ticked = _filled(form, done=pikepdf.Name.ok)
        ink = {box.name: _inside(drawn(ticked, 254), box) for box in boxes(form)}
        assert 0.1 < ink.pop("done") < 0.3
        assert set(ink.values()) == {0}


def _filled(form: bytes, **values: Any) -> bytes:
    """The form as another program fills it."""
    with pikepdf.open(io.BytesIO(form)) as document:
        for widget in document.pages[0].obj.Annots:
            if (value := values.get(str(widget.T))) is not None:
                widget.V = value
                if widget.FT == "/Btn":
                    widget.AS = value
        out = io.BytesIO()
        document.save(out)
    return out.getvalue()


def test_a_form_filled_by_another_program_reads_back(form: bytes) -> None:
    filled = _filled(form, void=pikepdf.Name.on, done=pikepdf.Name.ok, torque=pikepdf.String("35 őŁ"))
    assert {box.name: box.value for box in boxes(filled) if box.value} == {
        "void": "on", "done": "ok", "torque": "35 őŁ",
    }  # fmt: skip
    assert print_identifier(filled) == "007-CLU-4-1"


def test_a_field_split_from_its_widget_by_another_program_reads_back(form: bytes) -> None:
    with pikepdf.open(io.BytesIO(form)) as document:
        annotations = document.pages[0].obj.Annots
        for at, widget in enumerate(list(annotations)):
            moved = {key: widget[key] for key in ("/FT", "/T", "/TU", "/V", "/XXKind") if key in widget}
            kid = {key: value for key, value in widget.items() if key not in moved}
            kid["/Parent"] = document.make_indirect(pikepdf.Dictionary(moved))
            annotations[at] = document.make_indirect(pikepdf.Dictionary(kid))
            annotations[at].Parent.Kids = pikepdf.Array([annotations[at]])
        document.Root.AcroForm.Fields = pikepdf.Array([widget.Parent for widget in annotations])
        out = io.BytesIO()
        document.save(out)
    assert boxes(out.getvalue()) == boxes(form)


FAULTS = {
    "twice": (
        '<input name="a" title="A"><input name="a" title="B">',
        '2 fields are named "a": each needs a name of its own',
    ),
    "a dot": ('<input name="a.b" title="A">', 'a text field is named "a.b": use letters, digits, "_" and "-"'),
    "no name": ('<input title="A" type="checkbox">', 'a checkbox field is named "": use letters, digits, "_" and "-"'),
    "our name": (
        '<input name="docgen-print" title="A">',
        'field "docgen-print" has the name of the press\'s own field',
    ),
    "no title": ('<input name="a">', 'field "a" has no title: say what goes into it'),
    "radio": (
        '<input name="a" title="A" type="radio">',
        'field "a" is of type radio: use checkbox, date, text or textarea',
    ),
    "a bad tick": (
        '<input name="a" title="A" type="checkbox" value="o k">',
        'tick "a" has the value "o k": use letters, digits, "_" and "-"',
    ),
    "a value": ('<input name="a" title="A" value="34">', 'field "a" is filled in: fields are printed empty'),
    "lines": (
        '<textarea name="a" title="A">one</textarea>', 'field "a" is filled in: fields are printed empty',
    ),
    "ticked": (
        '<input type="checkbox" name="a" title="A" checked>', 'field "a" is filled in: fields are printed empty',
    ),
    "a list": (
        '<select name="a" title="A"></select>',
        "<select> has no place on paper: CSS goes to the press by itself, pictures are assets",
    ),
    "a head": (
        '<header style="position: running(run)"><input name="a" title="A"></header>',
        'page 1: field "A" stands in a running head or foot',
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_faulty_fields_are_refused(page: Callable[..., Pressed], fault: str) -> None:
    body, message = FAULTS[fault]
    with pytest.raises(PressError) as caught:
        page(
            f"<h1>A</h1><p>b</p>{body}",
            "@page { @top-left { content: element(run) } } input { font-size: 10pt }",
            forms=True,
        )
    assert str(caught.value) == message


def test_without_forms_there_are_no_fields(page: Callable[..., Pressed]) -> None:
    with pikepdf.open(io.BytesIO(page(FORM, PLACED).pdf)) as document:
        assert "/AcroForm" not in document.Root
