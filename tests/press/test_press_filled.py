"""A laid-out page filled with other values is what laying it out with them would have given, or it is laid out."""

from __future__ import annotations

import pickle
import random
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from docgen.job.number import LEAF, SheetNumber
from docgen.press.meta import Attached, Order
from docgen.press.shelf import PLACE, Shelf
from docgen.press.workers import printed
from docgen.sheets.page import Body, Numbers, Place
from tests.press.conftest import META, html
from tests.press.filled import another, differences, kept, with_values

BODY = Body(left=10, width=80, first=(20, 50), others=(15, 60), columns=2, gap=4)
FACES = (
    "@page { size: 100mm 80mm; margin: 15mm 10mm 5mm; @top-left { content: element(head); width: 100% }"
    " @bottom-right { content: element(number); width: 100% } }"
)
CSS = """
body, p, div { margin: 0 } p { font: 4mm/5mm Body } .head { position: running(head); font-weight: bold }
.plate { display: table; table-layout: fixed; width: 20mm } .plate > div { display: table-cell; text-align: center }
.number { position: running(number); text-align: right; white-space: nowrap }
.float { float: right } .inline { display: inline-block } .framed { border: .3mm solid #000; padding: 0 1mm }
"""
HEAD = (
    '<div class="head" data-furniture><div class="plate"><div><span data-value>017</span></div></div></div>'
    '<div class="number" data-furniture><span data-face="number"></span> · <span data-face="of"></span></div>'
)


def order(body: str, engine: str = "017") -> Order:
    number = SheetNumber(engine, "CLU", 4, 3, LEAF)
    numbers = Numbers(number, "{face} of {faces}", (Place(85, 3, 10),))
    return Order(
        key="a", html=html(HEAD + "<h1>Clutch</h1>" + body), css=CSS, faces=FACES, body=BODY, numbers=numbers,
        attachments=(Attached("job.yaml", engine.encode(), "application/yaml", "The job"),),
        **(META | {"title": f"Clutch, engine {engine}", "identifier": number.body}),
    )  # fmt: skip


def filled(first: Order, second: Order, folder: Path) -> bool:
    """Whether the second is filled into the first one's form; if it is, it is as it would be laid out."""
    made = kept(first, folder).filled(second)
    if made is None:
        return False
    laid_out = printed(second)
    assert (made.pages, made.sizes) == (laid_out.pages, laid_out.sizes)
    assert differences(made.pdf, laid_out.pdf) == []
    return True


@pytest.mark.parametrize(
    ("body", "value"),
    [
        ("<p data-value>{}</p>", "Zoë Kőszegi & daughter"),
        ("<p data-value>{}</p>", "i"),
        ('<p style="text-align: right"><span data-value>{}</span> is behind</p>', "W"),
        ('<p style="text-align: center" data-value>{}</p>', "AVATAR 10"),
        ("<p>before it <b data-value>{}</b></p>", "longer than it was"),
        ("<p>before it <b data-value>{}</b>, and behind</p>", "104 N"),
        ("<p>two lines of text that is as long as it has to be, of 80 mm, and <i data-value>{}</i></p>", "34 W"),
        ("<table style='table-layout: fixed; width: 60mm'><tr><td data-value>{}</td><td>x</td></tr></table>", "9 km"),
    ],
)
def test_a_value_that_moves_nothing_is_filled_in(body: str, value: str, tmp_path: Path) -> None:
    assert filled(order(body.format("371 N")), order(body.format(value.replace("&", "&amp;")), "7A"), tmp_path)


@pytest.mark.parametrize(
    ("body", "value"),
    [
        ("<p>before it <b data-value>{}</b>, and behind</p>", "1045 N"),
        ("<p data-value>{}</p>", "as long as no line can be " * 4),
        ("<p data-value>{}</p>", "two  blanks"),
        ("<p data-value>{}</p>", ""),
        ("<p data-value>{}</p>", "<i>371</i> N"),
        ("<p data-value>{}</p>", "Ж"),
        ('<p style="text-align: justify"><span data-value>{}</span> and the rest of it</p>', "1045 N"),
        ("<table><tr><td data-value>{}</td><td>x</td></tr></table>", "1045 N"),
        ('<div><div class="inline" data-value>{}</div></div>', "1045 N"),
        ('<div><div class="float">beside</div><p data-value>{}</p></div>', "1045 N"),
        ('<p>a frame <span class="framed" data-value>{}</span></p>', "1045 N"),
        ('<p style="letter-spacing: 1mm" data-value>{}</p>', "104 N"),
        ('<p style="text-decoration: underline" data-value>{}</p>', "1045 N"),
        ('<p style="text-transform: uppercase" data-value>{}</p>', "104 n"),
        ("<p>a line that is to be filled until its very end<br><span data-value>{}</span></p>", "104 N"),
        ('<p dir="rtl" data-value>{}</p>', "1045 N"),
    ],
)
def test_a_value_that_needs_a_layout_is_laid_out(body: str, value: str, tmp_path: Path) -> None:
    first = "371 n" if "uppercase" in body else "371 N"
    assert not filled(order(body.format(first)), order(body.format(value)), tmp_path)


def test_a_running_head_that_no_face_bears_may_hold_any_value(tmp_path: Path) -> None:
    first = order("<p>one</p>")
    unseen = '<div style="position: running(none)" data-furniture><b data-value>{}</b></div>'
    one, two = (replace(first, html=first.html.replace("<h1>", unseen.format(text) + "<h1>")) for text in ("a", "b c"))
    assert filled(one, two, tmp_path)


def test_what_is_laid_out_afresh_is_kept_beside_the_other(tmp_path: Path) -> None:
    body = "<p>before it <b data-value>{}</b>, and behind</p>"
    one, two = order(body.format("371 N")), order(body.format("1045 N"))
    shelf = kept(one, tmp_path)
    assert shelf.filled(two) is None
    printed(two, shelf)
    assert (shelf.filled(one), shelf.filled(two)) != (None, None)
    assert len(list((tmp_path / PLACE).iterdir())) == 2


def test_another_text_that_is_no_value_is_another_layout(tmp_path: Path) -> None:
    assert not filled(order("<p>one</p>"), order("<p>two</p>"), tmp_path)
    assert not filled(order("<p>one</p>"), replace(order("<p>one</p>"), css=CSS + "p { color: #111 }"), tmp_path)


@pytest.mark.parametrize("seed", range(6))
def test_random_values_are_as_laid_out(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    body = "".join(
        f"<p data-columns>{'Row' if n % 2 else ''} <span data-value>{n}1.5 {'mm' if n % 3 else 'N'}</span></p>"
        for n in range(30)
    )
    first = order(body)
    second = with_values(first, lambda text: another(text, chance, 3))
    assert filled(first, second, tmp_path)


@pytest.mark.parametrize(
    "damage",
    [
        lambda data: data[:-1],
        lambda data: b"",
        lambda data: data.replace(b"docgen form 2", b"docgen form 9"),
        lambda data: data.replace(b"Tm", b"Tx", 1),
        lambda data: data[:5000] + b"\0" + data[5001:],
    ],
)
def test_a_damaged_form_is_laid_out_afresh(damage: object, tmp_path: Path) -> None:
    one = order("<p data-value>371 N</p>")
    kept(one, tmp_path)
    (place,) = (tmp_path / PLACE).iterdir()
    assert callable(damage)
    place.write_bytes(damage(place.read_bytes()))
    assert Shelf(tmp_path).filled(one) is None
    assert printed(one, Shelf(tmp_path)) == printed(one)


def test_filling_loads_no_printing_library_and_nothing_that_reads_a_club_or_makes_a_page(tmp_path: Path) -> None:
    one = order("<p data-value>371 N</p>")
    kept(one, tmp_path)
    (tmp_path / "order").write_bytes(pickle.dumps(one))
    call = (
        "import pickle, sys; from pathlib import Path; from docgen.press.shelf import Shelf;"
        "from docgen.press.workers import printed;"
        f"order = pickle.loads(Path({str(tmp_path / 'order')!r}).read_bytes());"
        f"assert printed(order, Shelf(Path({str(tmp_path)!r}))).pdf;"
        "slow = {'weasyprint', 'tinycss2', 'PIL', 'fontTools', 'pydantic', 'jinja2', 'babel'};"
        "assert not slow & set(sys.modules), sorted(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", call], check=True)


def test_a_folder_that_cannot_be_written_is_no_matter(tmp_path: Path) -> None:
    (tmp_path / ".docgen").write_text("a file", "utf-8")
    one = order("<p data-value>371 N</p>")
    assert kept(one, tmp_path).filled(one) is None
