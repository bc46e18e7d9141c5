"""A sheet whose blocks were laid out for earlier ones is, to the byte, as if all of it were laid out for itself."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import pytest

from docgen.press import blocks, galley, render
from docgen.press.blocks import Blocks, Key
from docgen.press.meta import Pressed, PressError
from docgen.sheets.page import Body
from tests.press.conftest import html
from tests.press.conftest import render as printed_alone

BODY = Body(left=10, width=80, first=(20, 50), others=(15, 60), columns=2, gap=4)
FACES = "@page { size: 100mm 80mm; margin: 15mm 10mm 5mm; @top-left { content: element(head); width: 100% } }"
CSS = """
body, p, div { margin: 0 } p { font: 4mm/5mm Body } .head { position: running(head) } .float { float: right }
.tint { background: #888; height: 10.3mm } table { table-layout: fixed; width: 100% } col { background: #eee }
.first + div { padding-top: 3mm }
.placed { position: relative; height: 21mm } .placed p { position: absolute; top: 1mm }
svg { width: 9mm; display: block } img { width: 5mm; display: block } input { width: 30mm }
"""
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 4"><title>Bar</title><path d="M0 0h9v{}z"/></svg>'
MANY = [
    "<div data-columns><p>Undo the nut, and put it where {} lies.</p></div>",
    '<div data-columns><p class="float">{} N.m</p><p>Tighten the nut a little at a time, crosswise.</p></div>',
    '<div data-columns class="first"><p class="tint">{}</p></div>',
    "<div><table><colgroup><col><col></colgroup><tr><td>Gap</td><td>{} mm</td></tr></table></div>",
    f'<div data-columns>{SVG.format(4)}<p class="drawn">Figure {{}}</p></div>',
    '<div class="placed" data-columns><p>{} is placed</p></div>',
    "<div data-columns><p>Engine <b data-value>{}</b></p></div>",
    '<div data-grow="30"><p>Findings {}</p></div>',
]
WORDS = ["A", "1/3", "seventeen", "0.25", "the longest of all the words"]


class Counted(Blocks):
    """The blocks of a process, with how many each sheet had to lay out."""

    def __init__(self) -> None:
        super().__init__()
        self.laid_out: list[int] = []

    def boxes(self, keys: Sequence[Key], lay_out: Callable[[Sequence[int]], Mapping[int, Sequence[Any]]]) -> list[Any]:
        self.laid_out.append(0)

        def counted(wanted: Sequence[int]) -> Mapping[int, Sequence[Any]]:
            self.laid_out[-1] = len(wanted)
            return lay_out(wanted)

        return super().boxes(keys, counted)


@pytest.fixture
def fresh(monkeypatch: pytest.MonkeyPatch) -> Callable[[], Counted]:
    """From now on, as a process that has laid out nothing."""

    def begun() -> Counted:
        new = Counted()
        monkeypatch.setattr(galley, "BLOCKS", new)
        monkeypatch.setattr(render, "BLOCKS", new)
        return new

    return begun


def printed(body: str, css: str = CSS, **more: Any) -> Pressed:
    head = '<div class="head" data-furniture>Head</div><h1>Clutch</h1>'
    return printed_alone(html(head + body), css, body=BODY, faces=FACES, **more)


def test_whatever_was_laid_out_before_the_bytes_are_the_same(fresh: Callable[[], Counted]) -> None:
    chance = random.Random(20270220)
    sheets = [
        "".join(chance.choice(MANY).format(chance.choice(WORDS)) for _ in range(chance.randint(1, 9)))
        for _ in range(24)
    ]
    one_after_the_other = fresh()
    among_others = [printed(sheet).pdf for sheet in sheets]
    total = sum(one_after_the_other.laid_out)
    alone = []
    for sheet in sheets:
        fresh()
        alone.append(printed(sheet).pdf)
    assert among_others == alone
    blocks_there = sum(sheet.count("<div") + 1 for sheet in sheets)
    assert total < blocks_there * 0.7, (total, blocks_there)


def test_only_what_differs_is_laid_out(fresh: Callable[[], Counted]) -> None:
    known = fresh()
    rows = [f"<div data-columns><p>Row {n}</p></div>" for n in range(9)]
    for body in (rows, [*rows, "<div><p>Screw re-tapped</p></div>"], rows[::-1], rows[:4] + rows[5:]):
        printed("".join(body))
    assert known.laid_out == [
        10,
        1,
        2,
        0,
    ]  # the last row, which stands behind the heading then, and the first, which does not


def test_a_block_behind_another_one_than_before_is_laid_out_for_that(fresh: Callable[[], Counted]) -> None:
    known = fresh()
    printed('<div class="first"><p>A</p></div><div><p>B</p></div>')
    printed("<div><p>A</p></div><div><p>B</p></div>")
    assert known.laid_out == [3, 2]


def test_the_style_the_pictures_and_the_fields_belong_to_a_block(fresh: Callable[[], Counted]) -> None:
    known = fresh()
    body = '<div><img src="asset:a" alt="A"><input name="a" title="A"></div><div><p>B</p></div>'

    def picture(width: int) -> dict[str, str]:
        svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h{width}v9z"/></svg>'
        return {"a": svg, "not-named": f"{width}"}

    first = printed(body, drawings=picture(9), forms=True)
    other = printed(body, drawings=picture(5), forms=True)
    printed(body, drawings=picture(5), forms=True, css=CSS + "p { color: #111 }")
    assert printed(body, drawings=picture(5)).pdf not in (first.pdf, other.pdf)
    assert known.laid_out == [3, 1, 3, 3]
    assert first.pdf != other.pdf


def test_a_drawing_that_differs_makes_another_block(fresh: Callable[[], Counted]) -> None:
    known = fresh()
    made = [printed(f"<div>{SVG.format(n)}</div><div>{SVG.format(4)}</div>").pdf for n in (4, 3, 4)]
    assert known.laid_out == [3, 1, 0]
    assert made[0] == made[2] != made[1]


def test_blocks_of_a_sheet_that_is_not_fit_to_print_are_not_kept(fresh: Callable[[], Counted]) -> None:
    known = fresh()
    wide = '<div><p style="width: 20mm; white-space: nowrap">Much more than there is room for</p></div>'
    said = []
    for _ in range(2):
        with pytest.raises(PressError) as caught:
            printed(wide)
        said.append(caught.value.faults)
        printed("<div><p>Sound</p></div>")
    assert said[0] == said[1] != ()
    assert known.laid_out == [2, 2, 1, 0]


def test_no_more_are_kept_than_have_room(fresh: Callable[[], Counted], monkeypatch: pytest.MonkeyPatch) -> None:
    """Room is made once: what goes is then looked for in all that the process has."""
    monkeypatch.setattr(blocks, "MOST", 11)
    known = fresh()
    sheets = ["".join(f"<div><p>{n} {m}</p></div>" for m in range(3)) for n in range(4)]
    made = [printed(sheet).pdf for sheet in sheets]
    assert len(known._kept) == 11 // 2
    assert [printed(sheet).pdf for sheet in (sheets[3], sheets[0])] == [made[3], made[0]]
    assert known.laid_out == [4, 3, 3, 3, 0, 3]
    assert len(known._kept) <= 11
