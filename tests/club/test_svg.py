"""A drawing that somebody brings along: what gets through, and the exact refusal of what does not."""

from __future__ import annotations

import re
from pathlib import Path
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.read import read_club
from docgen.club.svg import MAX_DEPTH, MAX_SHAPES, SvgFault, clean_svg
from tests.smallclub import texts, write

LINE = '<path d="M0 0L9 9" stroke="black"/>'
PLAIN = "draw it with plain lines and shapes only"
FIGURES = "plain figures and colours like #404040 only"


def svg(inside: str, more: str = "") -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 60" {more}>{inside}</svg>'


def refused(text: str) -> tuple[str, str, str]:
    with pytest.raises(SvgFault) as caught:
        clean_svg(text)
    return caught.value.name, caught.value.message, caught.value.hint


def test_what_editors_add_for_themselves_is_left_out() -> None:
    text = f"""<?xml version="1.0" encoding="UTF-8"?>
<!-- drawn on a Sunday -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:own="http://example.org/own" viewBox="0 0 45 30" width="900px" id="top"
  onload="alert(1)" class="x" own:zoom="3">
  <title>old title</title><metadata><own:rdf/></metadata><own:namedview own:x="1"/><defs/>
  <g id="layer" style="fill:none;stroke:#404040;stroke-width:0.5px;-own-thing:7">{LINE}</g>
</svg>"""
    assert clean_svg(text) == (
        '<svg xmlns="http://www.w3.org/2000/svg" width="90.00mm" height="60.00mm" viewBox="0 0 45 30"><g>'
        '<g fill="none" stroke="#404040" stroke-width="0.5px"><path d="M0 0L9 9" stroke="black" /></g></g></svg>'
    )


@pytest.mark.parametrize(
    ("inside", "message", "hint"),
    [
        ("<script>alert(1)</script>", "<script>", PLAIN),
        ('<image href="http://x.example/a.png"/>', "<image>", PLAIN),
        ('<use href="#a"/>', "<use>", "save it as plain SVG, with copies and gradients made into plain shapes"),
        ("<foreignObject><p>hi</p></foreignObject>", "<foreignObject>", PLAIN),
        ('<a href="http://x.example"><path/></a>', "<a>", PLAIN),
        ("<style>path { fill: url(http://x.example) }</style>", "<style>", PLAIN),
        ('<animate attributeName="d"/>', "<animate>", PLAIN),
        ("<text>10 N.m</text>", "<text>", "turn its letters into paths, or say it in the step's text"),
        ('<defs><linearGradient id="a"/></defs>', "<defs>",
         "save it as plain SVG, with copies and gradients made into plain shapes"),
    ],
)  # fmt: skip
def test_what_would_be_seen_but_is_not_drawn_here_is_refused_by_name(inside: str, message: str, hint: str) -> None:
    assert refused(svg(inside)) == ("not-drawn-here", f"a drawing may not hold {message}", hint)


@pytest.mark.parametrize(
    ("attribute", "name", "message"),
    [
        ('fill="url(#a)"', "bad-drawing-value", 'a drawing may not say fill="url(#a)"'),
        ('fill="url(http://x.example/a)"', "bad-drawing-value",
         'a drawing may not say fill="url(http://x.example/a)"'),
        ('style="fill:url(file:///etc/passwd)"', "bad-drawing-value",
         'a drawing may not say fill="url(file:///etc/passwd)"'),
        ('stroke-width="1e999"', "bad-drawing-value", 'a drawing may not say stroke-width="1e999"'),
        ('stroke-width="12345678"', "bad-drawing-value", 'a drawing may not say stroke-width="12345678"'),
        ('transform="translate(1) x(2)"', "bad-drawing-value",
         'a drawing may not say transform="translate(1) x(2)"'),
        ('clip-path="url(#a)"', "not-drawn-here", 'a drawing may not use clip-path="url(#a)"'),
        ('style="display:none"', "not-drawn-here", "a drawing may not hide a part of itself"),
        ('visibility="hidden"', "not-drawn-here", 'a drawing may not use visibility="hidden"'),
        ('opacity="0"', "not-drawn-here", 'a drawing may not use opacity="0"'),
    ],
)  # fmt: skip
def test_values_that_lead_elsewhere_hide_or_blow_up_are_refused(attribute: str, name: str, message: str) -> None:
    assert refused(svg(f'<path d="M0 0" {attribute}/>'))[:2] == (name, message)


@pytest.mark.parametrize(
    ("text", "name", "message"),
    [
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + svg(LINE), "drawing-declares",
         "the drawing declares something of its own (<! or <?)"),
        ('<?xml-stylesheet href="http://x.example/a.css"?>' + svg(LINE), "drawing-declares",
         "the drawing declares something of its own (<! or <?)"),
        (svg("<![CDATA[x]]>"), "drawing-declares", "the drawing declares something of its own (<! or <?)"),
        ("<html><p>hi</p></html>", "not-a-drawing", "a drawing begins with <svg, not with <html"),
        ("", "not-a-drawing", "this is not SVG: no element found: line 1, column 0"),
        (svg("<path"), "not-a-drawing", "this is not SVG: not well-formed (invalid token): line 1, column 66"),
        (svg(""), "empty-drawing", "nothing is drawn in it"),
        ('<svg xmlns="http://www.w3.org/2000/svg">' + LINE + "</svg>", "drawing-without-box",
         "the drawing does not say how large it is"),
        (svg(LINE).replace("0 0 90 60", "0 0 0 60"), "drawing-without-box", "the drawing does not say how large it is"),
        (svg("<g>" * (MAX_DEPTH + 1) + LINE + "</g>" * (MAX_DEPTH + 1)), "drawing-too-large",
         f"shapes lie more than {MAX_DEPTH} deep within each other"),
        (svg("<path/>" * (MAX_SHAPES + 1)), "drawing-too-large",
         f"the drawing has {MAX_SHAPES + 1} shapes; the most is {MAX_SHAPES}"),
        (svg(" " * 60_000), "drawing-too-large", "the drawing has 60067 characters; the most is 60000"),
    ],
    ids=[str(n) for n in range(12)],
)  # fmt: skip
def test_what_is_no_drawing_says_so(text: str, name: str, message: str) -> None:
    assert refused(text)[:2] == (name, message)


SLOW = {
    "transform": "translate(1)" + " " * 50_000 + "x",
    "points": "1 " * 25_000 + "x",
    "d": "M" * 55_000 + "x",
    "stroke-dasharray": "," * 59_000 + "(",
    "x": "1" * 59_000,
    "style": "fill:" + "a" * 50_000,
}
SHAPES = {"d": "path", "points": "polygon"}


@pytest.mark.parametrize("key", SLOW)
def test_no_value_takes_long(key: str) -> None:
    start = process_time()
    assert refused(svg(f'<{SHAPES.get(key, "rect")} {key}="{SLOW[key]}"/>'))[0] == "bad-drawing-value"
    assert process_time() - start < 2


@given(st.text(alphabet='<>/="svgpathdML0 9.-:;#&!?x\n', max_size=300))
def test_any_text_is_a_drawing_or_refused(inside: str) -> None:
    for text in (inside, svg(inside), svg(f'<path d="{inside}"/>')):
        try:
            out = clean_svg(text)
        except SvgFault:
            continue
        assert not re.search(r"href|url|script|style|on[a-z]+=", out)


def test_a_step_with_a_drawing_is_read_cleaned_and_a_bad_one_is_shown_in_its_file(tmp_path: Path) -> None:
    path, first = "procedures/rotor-service.yaml", texts()["procedures/rotor-service.yaml"]
    at = first.index("  - do: ") if "  - do: " in first else first.index("- do: ")
    indent = " " * (len(first[:at]) - len(first[:at].rstrip(" ")) + (first[at:].index("do")))
    end = first.index("\n", at) + 1
    body = f"{indent}draws:\n{indent}  title: The wire\n{indent}  svg: |\n{indent}    {svg('{}')}\n"
    good = write(tmp_path / "good", {path: first[:end] + body.format(LINE) + first[end:]})
    folder = read_club(good)
    assert folder.problems == []
    (drawing,) = (s.draws for g in folder.procedures["rotor-service"].value.stages for s in g.steps if s.draws)
    assert drawing.title == "The wire"
    assert drawing.svg.startswith('<svg xmlns="http://www.w3.org/2000/svg" width="90.00mm"')
    bad = write(tmp_path / "bad", {path: first[:end] + body.format("<script/>") + first[end:]})
    (problem,) = read_club(bad).problems
    assert (problem.name, problem.message, problem.hint) == ("not-drawn-here", "a drawing may not hold <script>", PLAIN)
