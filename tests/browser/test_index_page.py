"""The page of printed sheets in headless Chromium: what it loads, what the keyboard reaches, what is read out.

Judged by axe-core too, from its registry, pinned with its digest in package-lock.json. Without Chromium (or without
npm, for axe-core) these tests are skipped and say so; tests/cli/test_index holds the same page against plain rules.
"""

from __future__ import annotations

import base64
import shutil
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlparse

import pytest

from tests.browser.chromium import Browser, browser, program
from tests.cli.test_index import printed

HERE = Path(__file__).parent
TAB, ENTER = 9, 13

pytestmark = pytest.mark.skipif(program() is None, reason="there is no Chromium here to open the page in")


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A club with sheets of every state, and its index."""
    return printed(tmp_path_factory.mktemp("club"))


@pytest.fixture(scope="module")
def tab(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """The index, opened."""
    with browser(tmp_path_factory.mktemp("profile")) as found:
        found.open(root / "out/index.html")
        yield found


def test_it_loads_nothing_but_itself_and_says_nothing(tab: Browser, root: Path) -> None:
    assert tab.requests[0] == (root / "out/index.html").resolve().as_uri()
    assert [one for one in tab.requests[1:] if not one.startswith("data:image/png")] == []
    assert tab.said == []


def test_every_pdf_is_linked_by_engine_or_for_all_and_every_link_leads_to_one(tab: Browser, root: Path) -> None:
    links = tab.value("[...document.querySelectorAll('.sheet a')].map(a => a.href)")
    paths = [Path(unquote(urlparse(link).path)) for link in links]
    there = sorted((root / "out").resolve().rglob("*.pdf"))
    assert len(there) >= 8
    assert sorted(set(paths)) == there
    engines = tab.value("[...document.querySelectorAll('[aria-labelledby=by-engine] .sheet a')].map(a => a.href)")
    assert len(engines) == len(there), "each once by engine"
    jobs = tab.value("[...document.querySelectorAll('[aria-labelledby=by-job] .sheet a')].map(a => a.href)")
    assert len(jobs) >= 4


def test_each_has_a_picture_of_its_first_page(tab: Browser) -> None:
    pictures = tab.value(
        "[...document.querySelectorAll('.picture')].map(p => getComputedStyle(p).backgroundImage)"
    )
    assert len(pictures) >= 8
    for one in pictures:
        data = base64.b64decode(one.removeprefix('url("data:image/png;base64,').removesuffix('")'))
        assert data.startswith(b"\x89PNG")
    sizes = tab.value(
        "Promise.all([...document.querySelectorAll('.picture')].map(p => new Promise(done => { const i = new Image();"
        " i.onload = () => done(i.naturalWidth); i.onerror = () => done(0);"
        " i.src = getComputedStyle(p).backgroundImage.slice(5, -2) })))"
    )
    assert set(sizes) == {200}


def test_the_keyboard_reaches_everything_in_order_and_shows_where_it_is(tab: Browser, root: Path) -> None:
    tab.open(root / "out/index.html")
    wanted = tab.value("[...document.querySelectorAll('a')].map(a => a.getAttribute('href'))")
    reached = []
    for _ in wanted:
        tab.press("Tab", TAB)
        href, outline, left, top = tab.value(
            "(e => [e.getAttribute('href'), getComputedStyle(e).outlineWidth, e.getBoundingClientRect().left,"
            " e.getBoundingClientRect().top])(document.activeElement)"
        )
        assert outline == "3px", href
        assert left >= 0, f"{href} has the focus and cannot be seen"
        assert 0 <= top < 900, f"{href} has the focus and cannot be seen"
        reached.append(href)
    assert reached == wanted
    assert reached[0] == "#sheets"


def test_the_first_link_leads_past_the_list_of_links(tab: Browser, root: Path) -> None:
    tab.open(root / "out/index.html")
    tab.press("Tab", TAB)
    tab.press("Enter", ENTER, "\r")
    until = time.monotonic() + 10
    while tab.value("document.activeElement.id") != "sheets":
        assert time.monotonic() < until, "the focus did not move"
    tab.press("Tab", TAB)
    assert tab.value("document.activeElement.closest('.sheet') !== null")


def test_what_is_read_out(tab: Browser) -> None:
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
def test_nothing_runs_out_of_the_window(tab: Browser, width: int) -> None:
    tab.ask("Emulation.setDeviceMetricsOverride", width=width, height=800, deviceScaleFactor=1, mobile=False)
    wide = tab.value("document.documentElement.scrollWidth")
    tab.ask("Emulation.clearDeviceMetricsOverride")
    assert wide <= width


def test_axe_core_finds_nothing(tab: Browser, tmp_path: Path) -> None:
    if not shutil.which("npm"):
        pytest.skip("there is no npm here, so axe-core cannot be had")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(HERE / name, tmp_path)
    got = subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=tmp_path, capture_output=True, check=False)
    if got.returncode:
        pytest.skip("axe-core cannot be had from its registry here")
    tab.value((tmp_path / "node_modules/axe-core/axe.min.js").read_text("utf-8") + ";0")
    found = tab.value(
        "axe.run().then(r => ({passes: r.passes.length, bad: r.violations.map(v => v.id + ': ' + v.nodes[0].html)}))"
    )
    assert found["bad"] == []
    assert found["passes"] > 15
