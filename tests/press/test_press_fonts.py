"""Which face draws which character, and that nothing but our faces ever does."""

from __future__ import annotations

import io
import os
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image, ImageDraw, ImageFont

from docgen.press.fonts import MAIN, beyond_main, fonts_for, main_characters, missing_glyphs
from docgen.press.meta import Pressed, PressError


def _families(pdf: bytes) -> dict[str, set[str]]:
    """Each font's name, and the characters that its ToUnicode map gives."""
    found: dict[str, set[str]] = {}
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for obj in document.objects:
            if isinstance(obj, pikepdf.Dictionary) and obj.get("/Subtype") == pikepdf.Name.Type0:
                mapped = re.findall(rb"<[0-9a-f]{4}> <([0-9a-f]+)>", obj.ToUnicode.read_bytes())
                name = str(obj.BaseFont).split("+")[1]
                found.setdefault(name, set()).update(
                    bytes.fromhex(code.decode()).decode("utf-16-be") for code in mapped
                )
    return found


def test_what_the_main_face_has_is_known_and_not_drawn_by_another() -> None:
    assert set("34 ± 0.1 N·m ≤ ≥ ° µ × ÷ ½ ¼ – ’ őŁßéÉžçñØ") <= main_characters()
    assert beyond_main("34 N·m\u200b\u00ad\u2060\n") == frozenset()


def test_missing_glyphs_names_what_no_face_has() -> None:
    assert missing_glyphs("Torque ω Привет 鈴木 שלום مرحبا 한") == set()
    assert missing_glyphs("ok 🔧 ১ → \ue000") == {"🔧", "১", "\ue000"}


@pytest.mark.parametrize(
    ("body", "css"),
    [
        ("<h1>A 🔧</h1>", ""),
        ("<h1>A</h1>", 'h1::after { content: "🔧" }'),
        ("<h1>A</h1>", 'h1::after { content: "\\1F527" }'),
    ],
)
def test_a_missing_glyph_is_an_error_before_printing(page: Callable[..., Pressed], body: str, css: str) -> None:
    with pytest.raises(PressError) as caught:
        page(body, css)
    assert str(caught.value) == 'no typeface here has "🔧" (U+1F527): change it in the file that says it'


def test_a_glyph_made_by_a_counter_is_caught_while_drawing(page: Callable[..., Pressed]) -> None:
    with pytest.raises(PressError) as caught:
        page("<h1>A</h1><ul><li>b</li></ul>", "ul { list-style-type: bengali }")
    assert str(caught.value) == 'no typeface here has "১" (U+09E7): change it in the file that says it'


def test_each_script_is_drawn_by_its_face_and_digits_stay_in_the_main_one(page: Callable[..., Pressed]) -> None:
    done = page("<h1>Names</h1><p>Привет 12, Μηχανή 34, שלום 56, مرحبا 78, 鈴木一郎 90 <b>鈴 Ж</b></p>")
    found = _families(done.pdf)
    digits = set("1234567890")
    assert sorted(found) == [
        "Body",
        "Body-Arabic",
        "Body-Bold",
        "Body-East-Asian",
        "Body-Hebrew",
        "Body-Wide",
        "Body-Wide-Bold",
    ]
    assert digits <= found["Body"]
    assert [name for name, drawn in found.items() if name != "Body" and drawn & digits] == []
    assert set("Привет") <= found["Body-Wide"]
    assert set("鈴木一郎") <= found["Body-East-Asian"]


def test_text_in_every_script_reads_back(page: Callable[..., Pressed], tmp_path: Path, run: Callable[..., str]) -> None:
    (tmp_path / "a.pdf").write_bytes(page("<h1>Names</h1><p>Привет</p><p>鈴木一郎</p><p>שלום</p><p>مرحبا</p>").pdf)
    text = run("pdftotext", tmp_path / "a.pdf", "-")
    words = re.sub("[\u200e\u200f\u202a-\u202e\u2066-\u2069\f]", "", text).split()
    assert words == ["Names", "Привет", "鈴木一郎", "שלום", "مرحبا"]


def test_accents_typed_apart_are_joined(page: Callable[..., Pressed]) -> None:
    assert page("<h1>Andre\u0301 Szo\u030bke</h1>").pdf == page("<h1>André Szőke</h1>").pdf


def test_any_family_name_ends_at_our_faces(page: Callable[..., Pressed]) -> None:
    done = page("<h1>One</h1><p>two</p>", "p { font-family: 'DejaVu Sans', monospace }")
    assert sorted(_families(done.pdf)) == ["Body", "Body-Bold"]


def test_making_fonts_leaves_the_environment_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FONTCONFIG_FILE", "/somewhere/else.conf")
    monkeypatch.delenv("FONTCONFIG_PATH", raising=False)
    before = dict(os.environ)
    fonts_for(frozenset("Ψ"))
    assert dict(os.environ) == before


# The reference is the font file drawn by FreeType through Pillow, with nothing of the press in between.
ACCENTS = "őŁßé"
PLAIN = "oLBe"
SIZE_PT, DPI = 60, 144


def _ink(pixels: np.ndarray) -> np.ndarray:
    """The inked rectangle of a picture, scaled to 64 x 64 and to 0..1."""
    dark = pixels < 128
    rows, columns = np.flatnonzero(dark.any(1)), np.flatnonzero(dark.any(0))
    cut = pixels[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    return 1 - np.asarray(Image.fromarray(cut).resize((64, 64), Image.Resampling.BILINEAR), float) / 255


def _reference(char: str) -> np.ndarray:
    font = ImageFont.truetype(io.BytesIO(MAIN[0].read()), SIZE_PT * DPI // 72)
    picture = Image.new("L", (400, 400), 255)
    ImageDraw.Draw(picture).text((100, 100), char, font=font, fill=0)
    return _ink(np.asarray(picture))


@pytest.mark.parametrize(("char", "plain"), list(zip(ACCENTS, PLAIN, strict=True)))
def test_accented_letters_print_with_the_right_glyph(
    page: Callable[..., Pressed], raster: Callable[..., np.ndarray], char: str, plain: str
) -> None:
    # All four stand on the page, so that the font is cut down as on a real sheet; one at a time is black.
    spans = "".join(f'<span class="{"on" if one == char else "off"}">{one}</span>' for one in ACCENTS)
    done = page(f"<p>{spans}</p>", f"p {{ font-size: {SIZE_PT}pt; margin: 0 }} .off {{ color: #fff }}")
    seen = _ink(raster(done.pdf, DPI))
    right, wrong = (float(np.abs(seen - _reference(one)).mean()) for one in (char, plain))
    assert right < wrong / 2, (right, wrong)
    assert right < 0.05
    assert wrong > 0.06
