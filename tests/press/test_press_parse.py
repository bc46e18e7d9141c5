"""What the parser of XML makes of a page is what that of HTML makes of it; what it would not is left to HTML."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
import tinyhtml5

from docgen.club.read import read_club
from docgen.job.resolve import resolve
from docgen.press.page import drawing, lifted, parsed
from docgen.sheets.leaf import leaf
from docgen.sheets.signoff import signoff
from tests.shares import share

ROOT = Path(__file__).resolve().parents[2]
NAMED = "{http://www.w3.org/2000/xmlns/}xmlns"
"""What the parser of HTML keeps of a drawing's name space, as if it were a property of it."""


def plain(element: Element) -> object:
    """An element with all that is in it, but for the blanks between the parts of a page, where nothing is printed."""
    tag = element.tag if isinstance(element.tag, str) else "comment"
    told = {name: value for name, value in element.attrib.items() if name != NAMED}
    inside = [(plain(child), child.tail or "") for child in element if isinstance(child.tag, str)]
    text = element.text or ""
    if tag in ("html", "head", "body"):
        return tag, told, text.strip(), [(one, tail.strip()) for one, tail in inside]
    return tag, told, text, inside


def by_html(html: str) -> Element:
    root: Element = tinyhtml5.parse(html, namespace_html_elements=False)
    return root


def test_the_pages_of_every_job_are_read_alike() -> None:
    folder = read_club(ROOT)
    seen = 0
    for number, record in sorted(folder.engines.items())[: share(1, 4)]:
        model = folder.models[record.engine.model].value
        for procedure in folder.for_model(model):
            job = resolve(folder, record, folder.procedures[procedure.procedure], date(2027, 2, 20))
            for page in (leaf(job, folder.club.value), signoff(job, folder.club.value)):
                root = parsed(page.html)
                assert root is not None, (number, procedure.code)
                assert plain(root) == plain(by_html(page.html)), (number, procedure.code)
                seen += 1
    assert seen > share(25, 100)


ALIKE = [
    '<p class=a hidden>1 &lt; 2 &amp; &#39;3&#39; &#x2264;<br>4<br/>5</p>',
    '<div title="a > b" data-value>x</div><input type=checkbox checked name="n"><img src="asset:a" alt="">',
    "<div title='it said \"no\"'>x</div><textarea>one\ntwo</textarea>",
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path d="M0 0"/></svg>',
    "<table><thead><tr><th>a</th></tr></thead><tbody><tr><td>1</td></tr></tbody></table>",
    "<!-- a remark --><p>x</p>",
]
LEFT = [
    "<p>1<p>2", "<ul><li>1<li>2</ul>", "<p>a&nbsp;b</p>", "<table><tr><td>1</td></tr></table>", "<p><div>x</div></p>",
    "<textarea>\none</textarea>", "<p>1 < 2</p>", "<b><i>x</b></i>", "<p title=\"a>x</p>", "<p a=1 a=2>x</p>",
    "<p>\x00</p>", '<!DOCTYPE html [<!ENTITY a "b">]><p>&a;</p>', "<svg><use xlink:href='#a'/></svg>",
]  # fmt: skip


def page(inside: str) -> str:
    return f'<!DOCTYPE html>\n<html lang="en"><head><title>T &amp; U</title></head><body>{inside}</body></html>'


@pytest.mark.parametrize("inside", ALIKE)
def test_what_is_written_as_our_pages_are_is_read_alike(inside: str) -> None:
    root = parsed(page(inside))
    assert root is not None
    assert plain(root) == plain(by_html(page(inside)))


@pytest.mark.parametrize("inside", LEFT)
def test_what_html_reads_otherwise_is_left_to_it(inside: str) -> None:
    assert parsed(page(inside)) is None


def test_what_is_in_a_drawing_is_read_once_and_by_itself() -> None:
    inside = '<title>Nut</title><g><path d="M0 0"/></g>'
    one = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1">{inside}</svg>'
    less, drawings = lifted(page(f"<p>{one}</p><div>{one}</div>"))
    assert list(drawings.values()) == [one]
    assert less.count(f'data-drawing="{next(iter(drawings))}"><title>Nut</title></svg>') == 2
    assert plain(drawing(one)) == plain(by_html(page(one))[1][0])
    assert drawing(one) is drawing(one)


@pytest.mark.parametrize("inside", [
    "<svg><title>a</title><svg><title>b</title></svg></svg>", "<svg><path/></svg>",
    '<svg><title>a</title><image href="asset:b"/></svg>',
])  # fmt: skip
def test_a_drawing_within_another_one_without_a_title_or_with_a_picture_stays(inside: str) -> None:
    assert lifted(page(inside)) == (page(inside), {})
