"""Blocks laid out once and moved onto faces: their words, tints, fields and tags are where they should be."""

from __future__ import annotations

import io
from collections.abc import Callable

import numpy as np
import pikepdf
import pymupdf
import pytest

from docgen.press.meta import Pressed, PressError
from docgen.sheets.page import Body
from tests.press.conftest import html, render

BODY = Body(left=10, width=80, first=(20, 50), others=(15, 60), columns=2, gap=4)
FACES = "@page { size: 100mm 80mm; margin: 15mm 10mm 5mm; @top-left { content: element(head); width: 100% } }"
CSS = """
body, p, div { margin: 0 } p { font: 4mm/5mm Body } .head { position: running(head) }
.tint { background: #888; height: 18mm } .short { height: 8mm } input, textarea { width: 30mm }
"""


def printed(body: str, **more: object) -> Pressed:
    return render(html(body), css=CSS, body=BODY, faces=FACES, **more)


def words(pdf: bytes) -> list[tuple[int, str, float, float]]:
    """Page, word, left and top in mm, of every word."""
    with pymupdf.open(stream=pdf) as document:
        return [
            (page.number + 1, word[4], word[0] * 25.4 / 72, word[1] * 25.4 / 72)
            for page in document
            for word in page.get_text("words")
        ]


HEAD = '<div class="head" data-furniture>Head</div>'
EIGHT = HEAD + "<h1>Wide</h1>" + "".join(f'<div data-columns><p class="tint">B{n}</p></div>' for n in range(8))


def test_blocks_fill_columns_face_by_face_and_every_face_has_its_head() -> None:
    made = printed(EIGHT)
    assert (made.pages, made.sizes) == (2, ((100.0, 80.0),) * 2)
    found = words(made.pdf)
    assert [w for _, w, _, _ in found if w == "Head"] == ["Head"] * 2
    places = {w: (page, round(left)) for page, w, left, _ in found if w.startswith("B")}
    assert places == {
        "B0": (1, 10), "B1": (1, 10), "B2": (1, 52), "B3": (1, 52),
        "B4": (2, 10), "B5": (2, 10), "B6": (2, 52), "B7": (2, 52),
    }  # fmt: skip


def test_a_tint_stands_behind_its_own_words(raster: Callable[..., np.ndarray]) -> None:
    made = printed(EIGHT)
    dot = 100 / 25.4
    for page, word, left, top in words(made.pdf):
        if word.startswith("B"):
            pixels = raster(made.pdf, 100, page)
            spot = pixels[int((top + 12) * dot), int((left + 20) * dot)]
            assert 120 < spot < 150, (page, word, spot)


def test_fields_are_where_their_ink_is_and_the_last_one_takes_what_is_left() -> None:
    made = printed(
        HEAD + '<h1>A</h1><div data-columns><input name="one" title="One"></div>'
        '<div data-columns><p class="tint">B</p></div><div data-columns><p class="tint">C</p></div>'
        '<div data-grow="30"><p>D</p><textarea name="two" title="Two"></textarea></div>',
        forms=True,
    )
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        fields = [one for page in pdf.pages for one in page.obj.get("/Annots", [])]
        rects = {str(one.T): [float(v) * 25.4 / 72 for v in one.Rect] for one in fields}
    assert rects["one"][0] == pytest.approx(10, abs=0.6)
    assert rects["two"][3] - rects["two"][1] > 20
    assert 80 - rects["two"][1] <= 70.5  # down to the end of the face's body


def test_what_floats_beside_a_text_is_read_out_behind_it() -> None:
    made = printed('<h1>A</h1><div><p style="float: right">Beside</p><p>Line</p></div>')
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        root = pdf.Root.StructTreeRoot.K[0]
        order = []

        def walk(item: pikepdf.Object) -> None:
            for kid in item.get("/K", []):
                if isinstance(kid, pikepdf.Dictionary):
                    walk(kid)
                else:
                    order.append(int(kid))

        walk(root)
    with pymupdf.open(stream=made.pdf) as document:
        drawn = [word[4] for word in document[0].get_text("words", sort=False)]
    assert len(order) == 3
    spoken = [drawn[n] for n in order]
    assert spoken == ["A", "Line", "Beside"]


def test_a_block_that_fits_on_no_face_is_named_in_its_own_words() -> None:
    with pytest.raises(PressError, match=r'^"Very tall" is 15 mm too high for a face: say it in fewer words$'):
        printed('<h1>A</h1><div data-columns style="height: 75mm"><p>Very tall</p></div>')
