"""Pages that are not fit to print are refused, with where, what and by how much; pages that are fit are printed.

The paper is 100 x 80 mm with margins of 10 mm, so the text area is 80 x 60 mm.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from docgen.press.meta import Pressed, PressError

LONG = "Kurbelwellenlagerschmierung" * 2
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"'
MARK = SVG + ' style="{}"><title>Mark</title><path d="M0 0h4v4z"/></svg>'
TICK = '<input type="checkbox" name="t" title="T" data-keep-clear="2 mm">'


def lines(count: int) -> str:
    return "".join(f"<p>line {number}</p>" for number in range(1, count + 1))


# With these, every line is 7 mm high, so that eight of them (the title is one) fill a page to 56 of its 60 mm.
EVEN = "p, h2 { margin: 0; line-height: 7mm; font-size: 12pt } h1 { margin: 0; font-size: 12pt; line-height: 7mm } "

REFUSED = {
    "a picture wider than the text area": (
        MARK.format("width: 90mm; height: 5mm"),
        "",
        'page 1: picture "Mark" sticks out by 10.0 mm at the right of the text area',
    ),
    "a word too long for its line": (
        f"<p>{LONG}</p>",
        "p { font-size: 12pt }",
        f'page 1: "{LONG[:37]}..." sticks out by # mm at the right of the text area',
    ),
    "a word too long for its cell": (
        f'<table><tr><td id="part">{LONG}</td><td>next</td></tr></table>',
        "table { table-layout: fixed; width: 80mm }",
        f'page 1: "{LONG[:37]}..." sticks out by # mm at the right of its cell',
    ),
    "a text higher than its fixed box": (
        '<div class="slot">one<br>two<br>three</div>',
        ".slot { height: 8mm; font-size: 12pt; line-height: 5mm }",
        'page 1: "two" sticks out by # mm at the bottom of its place\n'
        'page 1: "three" sticks out by # mm at the bottom of its place',
    ),
    "a text cut off by its box": (
        '<div class="slot"><p>one</p><p>two</p></div>',
        ".slot { height: 6mm; overflow: hidden } p { margin: 0; font-size: 12pt; line-height: 5mm }",
        'page 1: "two" is cut off by # mm at the bottom of its place',
    ),
    "a block that is too high for any page": (
        '<div class="tall"><div style="height: 65mm"></div><p>low</p></div>',
        ".tall { display: inline-block }",
        'page 2: "low" sticks out by # mm at the bottom of the text area',
    ),
    "an item of a row that does not shrink": (
        f'<div class="row"><div>{LONG}</div><div>right</div></div>',
        ".row { display: flex } .row div { flex: 0 0 40mm; width: 40mm }",
        f'page 1: "{LONG[:37]}..." sticks out by # mm at the right of its place',
    ),
    "a placed box off the paper": (
        MARK.format("position: absolute; left: 86mm; top: 0; width: 10mm; height: 10mm"),
        "",
        'page 1: picture "Mark" sticks out by 6.0 mm at the right of the paper',
    ),
    "a text out of its placed box": (
        f'<div class="place">{LONG}</div>',
        ".place { position: absolute; left: 0; top: 20mm; width: 30mm; white-space: nowrap }",
        f'page 1: "{LONG[:37]}..." sticks out by # mm at the right of its place',
    ),
    "a running head wider than its place": (
        "<p>x</p>",
        f'@page {{ @top-left {{ width: 20mm; white-space: nowrap; content: "{LONG}" }} }}',
        f'page 1: "{LONG[:37]}..." sticks out by # mm at the right of the running head',
    ),
    "a running head higher than the margin": (
        "<p>x</p>",
        '@page { @top-left { font-size: 60pt; content: "Head" } }',
        'page 1: "Head" sticks out by # mm at the # of the running head',
    ),
    "a turned text that leaves the paper": (
        '<p style="transform: rotate(90deg); width: 78mm; font-size: 14pt">turned far up</p>',
        "",
        'page 1: "turned far up" sticks out by # mm at the top of the text area',
    ),
    "a field wider than its cell": (
        '<table><tr><td><input name="torque" title="T" style="width: 50mm"></td><td>b</td></tr></table>',
        "table { table-layout: fixed; width: 80mm }",
        'page 1: field "T" sticks out by # mm at the right of its cell',
    ),
    "text in a space to keep clear": (
        '<div class="clip" data-keep-clear="0 mm" id="clip"></div><p>under the clip</p>',
        ".clip { position: absolute; left: 0; top: 0; width: 80mm; height: 15mm }",
        'page 1: "A" reaches # mm into the clear space of "clip"\n'
        'page 1: "under the clip" reaches # mm into the clear space of "clip"',
    ),
    "text too near a tick box": (
        f"<p>{TICK}near</p>",
        "input { margin: 0; border: .5pt solid }",
        'page 1: "near" reaches 2.0 mm into the clear space of "T"',
    ),
    "a rule too near a tick box": (
        f"<table><tr><td>{TICK}</td></tr></table>",
        "td { padding: 1mm; border: 1pt solid }",
        'page 1: a line reaches # mm into the clear space of "T"',
    ),
    "a field that is turned": (
        '<p><input name="a" title="A" style="transform: rotate(5deg); margin: 2mm"></p>',
        "",
        'page 1: field "A" is turned or scaled: fields stand upright',
    ),
    "a text that is seen through": (
        "<p>b</p>",
        "p { opacity: .5 }",
        "page 1: <p> has an opacity, which hides its text from readers: use a lighter colour",
    ),
    "two texts on one another": (
        '<p>first words</p><p class="over">second words</p>',
        "p { margin: 0; position: absolute; left: 0; top: 15mm } .over { left: 5mm; top: 17mm }",
        'page 1: "first words" and "second words" lie # mm over one another',
    ),
    "two fields on one another": (
        '<input name="a" title="A"><input name="b" title="B" style="margin-left: -2mm">',
        "",
        'page 1: field "A" and field "B" lie 2.0 mm over one another',
    ),
    "a clear space without a length": (
        TICK.replace("2 mm", "wide"),
        "",
        'page 1: "T" has data-keep-clear="wide": write a length in mm, such as "2 mm"',
    ),
    "a heading alone at the foot": (
        lines(6) + "<h2>Close</h2><p>after</p>",
        EVEN + "h2 { break-after: auto } p { break-before: auto }",
        'page 1: heading "Close" stands alone at the foot',
    ),
    "a table head alone at the foot": (
        '<div style="height: 47mm"></div><table><caption>Torques</caption>'
        '<tr><td><div style="height: 20mm">x</div></td></tr></table>',
        EVEN + "caption { line-height: 5mm; break-after: auto } tr { break-inside: avoid }",
        'page 1: table head "Torques" stands alone at the foot',
    ),
    "a blank last page": (
        '<p>x</p><div style="break-before: page; height: 5mm"></div>',
        "@page { @bottom-right { content: counter(page) } }",
        "page 2: nothing is on it but running heads and feet",
    ),
    "a step split over two pages": (
        lines(5) + '<div data-keep-together="step 3"><p>first</p><p>second</p><p>third</p></div>',
        EVEN + "p { orphans: 1; widows: 1 }",
        'pages 1 and 2: "step 3" is split, but must stay together',
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_refused(page: Callable[..., Pressed], case: str) -> None:
    body, css, message = REFUSED[case]
    with pytest.raises(PressError) as caught:
        page(f"<h1>A</h1>{body}", css, forms=True)
    pattern = re.escape(message).replace("at\\ the\\ \\#", "at the (top|bottom|left|right)").replace("\\#", r"\d+\.\d")
    assert re.fullmatch(pattern, str(caught.value)), str(caught.value)


def test_how_much_it_sticks_out_is_measured(page: Callable[..., Pressed]) -> None:
    body = f'<h1>A</h1><div class="slot">{SVG}><title>bar</title></svg></div>'
    css = (
        ".slot {{ width: 20mm; height: 10mm; border: 1mm solid; padding: 2mm }}"
        "svg {{ width: {}mm; height: 1mm; display: block }}"
    )
    assert page(body, css.format(22.1)).pages == 1  # up to the border, and a little: less than a printer's own error
    with pytest.raises(PressError) as caught:
        page(body, css.format(25))
    assert str(caught.value) == 'page 1: picture "bar" sticks out by 3.0 mm at the right of its place'


FIT = {
    "letters that reach above and below a tight line": (
        "<p>Ágjpq</p><p>Ágjpq</p>",
        "p { line-height: .8; margin: 0 }",
    ),
    "a mark in the margin": (MARK.format("position: absolute; left: -8mm; top: -8mm; width: 5mm; height: 5mm"), ""),
    "a mark on every page": (
        MARK.format("position: fixed; left: -8mm; top: -8mm; width: 5mm; height: 5mm")
        + '<p style="break-before: page">b</p>',
        "",
    ),
    "a hanging number": ('<p class="step">1 Do it</p>', ".step { padding-left: 8mm; text-indent: -8mm }"),
    "a table with collapsed borders": (
        "<table><tr><th>a</th><th>b</th></tr><tr><td>1</td><td>2</td></tr></table>",
        "table { width: 100% } td, th { border: 2pt solid }",
    ),
    "a text that just fits": (
        '<div class="slot">one<br>two</div>',
        ".slot { height: 10mm; font-size: 12pt; line-height: 5mm }",
    ),
    "a turned label in its place": (
        '<div class="label"><p>OIL</p></div>',
        ".label { position: absolute; left: 0; top: 20mm; width: 20mm; height: 20mm }"
        " p { transform: rotate(-90deg); margin: 0; width: 20mm; height: 20mm }",
    ),
    "hidden text": ('<p style="visibility: hidden; white-space: nowrap">' + LONG * 3 + "</p><p>b</p>", ""),
    "a tint behind a tick box": (
        f'<table><tr><td style="background: #ddd">{TICK}</td></tr></table>',
        "td { padding: 3mm; border: 1pt solid }",
    ),
    "a tick box with room": (f"<p>{TICK} <span>far</span></p>", "span { margin-left: 3mm }"),
    "a table that goes on": (
        "<table><thead><tr><th>head</th></tr></thead>" + "<tr><td>row</td></tr>" * 30 + "</table>",
        "",
    ),
    "a heading with its text on the last line": (
        lines(5) + "<h2>Close</h2><p>after</p>",
        EVEN,
    ),
    "a heading that moved on": (lines(6) + "<h2>Close</h2><p>after</p>", EVEN),
    "a long document": ("".join(f"<h2>Part {number}</h2>{lines(8)}" for number in range(1, 9)), ""),
    "a page of placed boxes alone": (
        '<div style="break-before: page; height: 60mm; position: relative">'
        '<p style="position: absolute; top: 9mm">b</p></div>',
        "",
    ),
    "a step that was kept together": (
        lines(6) + '<div data-keep-together="step 3"><p>first</p><p>second</p></div>',
        EVEN + "div { break-inside: avoid }",
    ),
    "two columns": (f'<div class="cols">{lines(16)}</div>', ".cols { columns: 2; column-gap: 5mm } p { margin: 0 }"),
    "a footnote": ('<p>text<span class="note">a note</span></p>', ".note { float: footnote }"),
    "a grid": (
        '<div class="grid"><p>a</p><p>b</p><p>c</p></div>',
        ".grid { display: grid; grid-template-columns: 20mm 1fr; gap: 2mm }",
    ),
    "a running head": (
        "<p>x</p>",
        '@page { @top-left { content: "Engine 007" } @bottom-right { content: "page " counter(page) } }',
    ),
}


@pytest.mark.parametrize("case", FIT)
def test_printed(page: Callable[..., Pressed], case: str) -> None:
    body, css = FIT[case]
    assert page(f"<h1>A</h1>{body}", css, forms=True).pages >= 1
