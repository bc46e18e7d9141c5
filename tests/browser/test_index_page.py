"""The page of printed sheets in headless Chromium: what it loads, what the keyboard reaches, what is read out, axe.

Without Chromium these tests are skipped and say so; tests/cli/test_index holds the same page against plain rules.
"""

from __future__ import annotations

import base64
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlparse

import pytest

from tests.browser.tab import Tab, needs_browser, opened, started
from tests.cli.test_index import printed

pytestmark = needs_browser


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A club with sheets of every state, and its index."""
    return printed(tmp_path_factory.mktemp("club"))


@pytest.fixture(scope="module")
def tab(root: Path) -> Iterator[Tab]:
    """The index, opened."""
    with started() as browser, opened(browser) as found:
        found.page.goto(address(root))
        yield found


def address(root: Path) -> str:
    return (root / "out/index.html").resolve().as_uri()


def test_it_loads_nothing_but_itself_and_says_nothing(tab: Tab, root: Path) -> None:
    assert tab.requests[0] == address(root)
    assert [one for one in tab.requests[1:] if not one.startswith("data:image/png")] == []
    assert tab.said == []


def test_every_pdf_is_linked_by_engine_or_for_all_and_every_link_leads_to_one(tab: Tab, root: Path) -> None:
    links = tab.page.evaluate("[...document.querySelectorAll('.sheet a')].map(a => a.href)")
    paths = [Path(unquote(urlparse(link).path)) for link in links]
    there = sorted((root / "out").resolve().rglob("*.pdf"))
    assert len(there) >= 8
    assert sorted(set(paths)) == there
    engines = tab.page.evaluate(
        "[...document.querySelectorAll('[aria-labelledby=by-engine] .sheet a')].map(a => a.href)"
    )
    assert len(engines) == len(there), "each once by engine"
    jobs = tab.page.evaluate("[...document.querySelectorAll('[aria-labelledby=by-job] .sheet a')].map(a => a.href)")
    assert len(jobs) >= 4


def test_each_has_a_picture_of_its_first_page(tab: Tab) -> None:
    pictures = tab.page.evaluate(
        "[...document.querySelectorAll('.picture')].map(p => getComputedStyle(p).backgroundImage)"
    )
    assert len(pictures) >= 8
    for one in pictures:
        data = base64.b64decode(one.removeprefix('url("data:image/png;base64,').removesuffix('")'))
        assert data.startswith(b"\x89PNG")
    sizes = tab.page.evaluate(
        "Promise.all([...document.querySelectorAll('.picture')].map(p => new Promise(done => { const i = new Image();"
        " i.onload = () => done(i.naturalWidth); i.onerror = () => done(0);"
        " i.src = getComputedStyle(p).backgroundImage.slice(5, -2) })))"
    )
    assert set(sizes) == {200}


def test_the_keyboard_reaches_everything_in_order_and_shows_where_it_is(tab: Tab, root: Path) -> None:
    tab.page.goto(address(root))
    wanted = tab.page.evaluate("[...document.querySelectorAll('a')].map(a => a.getAttribute('href'))")
    reached = []
    for _ in wanted:
        tab.page.keyboard.press("Tab")
        href, outline, left, top = tab.page.evaluate(
            "(e => [e.getAttribute('href'), getComputedStyle(e).outlineWidth, e.getBoundingClientRect().left,"
            " e.getBoundingClientRect().top])(document.activeElement)"
        )
        assert outline == "3px", href
        assert left >= 0, f"{href} has the focus and cannot be seen"
        assert 0 <= top < 900, f"{href} has the focus and cannot be seen"
        reached.append(href)
    assert reached == wanted
    assert reached[0] == "#sheets"


def test_the_first_link_leads_past_the_list_of_links(tab: Tab, root: Path) -> None:
    tab.page.goto(address(root))
    tab.page.keyboard.press("Tab")
    tab.page.keyboard.press("Enter")
    tab.page.wait_for_function("document.activeElement.id === 'sheets'")
    tab.page.keyboard.press("Tab")
    assert tab.page.evaluate("document.activeElement.closest('.sheet') !== null")


def test_what_is_read_out(tab: Tab) -> None:
    said = tab.read_out()
    assert said[0] == ("RootWebArea", "Printed sheets · Test Bench Club")
    headings = [name for role, name in said if role == "heading"]
    assert headings == ["Printed sheets", "By engine", "Engine 7A, Willow 80", "Engine 8B, Willow 80",
                        "For all engines", "Readings", "Blank sets", "By job",
                        "ROT Rotor - clean and regrease"]  # fmt: skip
    links = [name for role, name in said if role == "link"]
    assert all(name.strip() for name in links)
    assert ("image", "") not in said, "a picture repeats what its link says and stays silent"
    states = [name for role, name in said if role == "StaticText" and name in ("Due", "Current", "Superseded")]
    assert {"Due", "Current", "Superseded"} == set(states)
    assert {role for role, _ in said} >= {"navigation", "main", "banner", "contentinfo", "list", "listitem", "region"}


@pytest.mark.parametrize("width", [320, 1200])
def test_nothing_runs_out_of_the_window(tab: Tab, width: int) -> None:
    tab.page.set_viewport_size({"width": width, "height": 800})
    wide = tab.page.evaluate("document.documentElement.scrollWidth")
    tab.page.set_viewport_size({"width": 1200, "height": 900})
    assert wide <= width


def test_axe_core_finds_nothing(tab: Tab) -> None:
    wrong, kept = tab.faults()
    assert wrong == []
    assert kept > 15
