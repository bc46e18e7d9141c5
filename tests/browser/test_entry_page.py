"""The page on which a signed sheet is looked through, in headless Chromium, with a whole clutch sheet photographed.

By keyboard alone from the first box to the entry in the log; what axe-core finds; what is asked for, and of whom.
Without Chromium these tests are skipped and say so; tests/camera/test_desk_page holds what the server answers.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread
from urllib.parse import urlparse

import pytest
from playwright.sync_api import Browser, expect

from docgen.club.read import read_club
from docgen.desk.entry import Entry
from docgen.desk.server import Desk
from docgen.returns.verify import verify
from tests.browser.clutch import OUTSIDE, TODAY, TYPED, UNCLEAR, issued, photographed
from tests.browser.tab import Tab, needs_browser, opened, started
from tests.returns.conftest import Club
from tests.shares import share
from tests.visit.conftest import NAMES, answers, printed_at
from tests.visit.conftest import TODAY as VISITED

pytestmark = needs_browser
WHERE = """() => { const e = document.activeElement, box = e.getBoundingClientRect(), y = box.top + box.height / 2;
  return {name: e.name || e.id, kind: e.type || "", value: e.value || "", outline: getComputedStyle(e).outlineStyle,
    seen: box.left >= 0 && box.right <= innerWidth + 1 && y >= 0 && y <= innerHeight,
    over: document.elementFromPoint(box.left + 8, y) === e} }"""
SELDOM = 200
"""More keys than any way through the page needs."""


@dataclass
class Signed:
    """The sheet on its page: its club, the entry, the photographs."""

    club: Club
    entry: Entry
    files: dict[str, bytes] = field(default_factory=dict)


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Signed:
    """The clutch sheet of the demo, signed and photographed."""
    club = issued(tmp_path_factory.mktemp("demo") / "club")
    return Signed(club, *photographed(club))


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The browser; each page has a profile of its own."""
    with started() as found:
        yield found


@contextmanager
def shown(browser: Browser, entry: Entry, width: int = 1280, height: int = 900) -> Iterator[Tab]:
    """The page of an entry, open in the browser."""
    with Desk(entry) as desk:
        serving = Thread(target=desk.serve_forever, daemon=True)
        serving.start()
        try:
            with opened(browser, width, height) as tab:
                tab.page.goto(desk.address)
                tab.page.locator("#boxes").wait_for()
                yield tab
        finally:
            desk.shutdown()
            serving.join()


def walked(tab: Tab) -> list[str]:
    """Tab through the form, typing what the paper says into each box, up to the button below; the boxes in order."""
    reached: list[str] = []
    keys = tab.page.keyboard
    for _ in range(SELDOM):
        keys.press("Tab")
        here = tab.page.evaluate(WHERE)
        assert here["seen"], f"{here['name']} has the focus and cannot be seen"
        assert here["over"], f"something lies over {here['name']}"
        assert here["outline"] == "solid", f"nobody sees that {here['name']} has the focus"
        if here["name"] == "check":
            return reached
        reached.append(here["name"])
        if here["kind"] == "radio":
            keys.press("Space")
        elif here["kind"] != "checkbox":
            assert here["value"] == "", f"something was written into {here['name']} for us"
            keys.type(TYPED.get(here["name"], ""))
    raise AssertionError("the keyboard never leaves the form")


def pressed(tab: Tab, wanted: str) -> None:
    """Tab to a button and press it; what is in doubt on the way there is said to be as it stands."""
    for _ in range(SELDOM):
        tab.page.keyboard.press("Tab")
        here = tab.page.evaluate(WHERE)
        if here["name"] == wanted:
            tab.page.keyboard.press("Enter")
            return
        if here["kind"] == "checkbox":
            tab.page.keyboard.press("Space")
    raise AssertionError(f"the keyboard never reaches {wanted}")


def test_by_keyboard_alone_a_whole_clutch_sheet_is_filed(browser: Browser, signed: Signed) -> None:
    with shown(browser, signed.entry) as tab:
        first = walked(tab)
        wanted = tab.page.evaluate("[...new Set([...document.getElementById('boxes').elements].map(e => e.name))]")
        assert first == [name for name in wanted if name]
        assert first[0] == UNCLEAR, "what is unclear comes first"
        assert set(TYPED) <= set(first)
        row = tab.page.locator(f'.row[data-field="{OUTSIDE}"]')
        expect(row).to_have_class("row pictured look")
        expect(row.locator(".said")).to_have_text('"0,80" understood as 0.80 mm; OUTSIDE 0.10 to 0.60 mm')
        expect(row.locator(".told")).to_have_text("along the shaft · last 0.30 mm at 7.8 h · accept 0.15 to 0.55 mm")
        tab.page.keyboard.press("Enter")
        expect(tab.page.locator("#outcome")).to_be_focused()
        expect(tab.page.locator("#said .refused")).to_have_count(0)
        assert tab.faults()[0] == []
        log = signed.club.root / "engines/017/log"
        assert list(log.glob("*2027-02-21*service*")) == [], "nothing is filed before somebody says so"
        pressed(tab, "file")
        expect(tab.page.locator("#end")).to_be_focused()
        assert tab.faults()[0] == []
        assert tab.said == []
        assert {urlparse(one).netloc for one in tab.requests} == {urlparse(tab.page.url).netloc}
        assert {urlparse(one).hostname for one in tab.requests} == {"127.0.0.1"}
    (event,) = log.glob("*2027-02-21*service*")
    text = event.read_text("utf-8")
    assert all(f"signed/{path.name}" in text for path in (signed.club.root / "engines/017/signed").iterdir())
    kept = [path.read_bytes() for path in (signed.club.root / "engines/017/signed").iterdir()]
    assert sorted(kept) == sorted(signed.files.values())
    assert "0.80" in text
    assert verify(signed.club.root, "017").problems == ()


WINDOWS = [
    (1280, 900, True), (390, 844, False), (320, 640, True), (1280, 900, False), (390, 844, True), (320, 640, False),
]  # fmt: skip
"""Width, height, photographed or typed in: in an everyday run each width once, and both ways."""


@pytest.mark.parametrize(("width", "height", "pictures"), WINDOWS[: share(3, 6)])
def test_axe_core_finds_nothing_and_nothing_runs_out_of_the_window(
    browser: Browser, signed: Signed, width: int, height: int, pictures: bool
) -> None:
    entry = signed.entry if pictures else Entry(signed.club.folder, signed.club.sheet, TODAY)
    with shown(browser, entry, width, height) as tab:
        for step in ("looked at", "checked"):
            if step == "checked":
                tab.page.locator("#check").press("Enter")
                expect(tab.page.locator("#outcome")).to_be_focused()
            wrong, kept = tab.faults()
            assert wrong == []
            assert kept > 25
            assert tab.page.evaluate("document.documentElement.scrollWidth") <= width
        crop = tab.page.locator(f'.row[data-field="{OUTSIDE}"] .crop')
        assert crop.count() == pictures
        assert not pictures or "page-1.jpg" in crop.evaluate("e => getComputedStyle(e).backgroundImage")


FILLED = """wanted => { for (const box of document.getElementById("boxes").elements) {
  if (box.type === "checkbox") box.checked = wanted[box.name] === "on";
  else if (box.name) box.value = wanted[box.name] || ""; } }"""


def test_of_a_visit_a_job_that_is_refused_holds_up_none_before_it(browser: Browser, tmp_path: Path) -> None:
    """Two jobs are filed, the third is put right on the same page, and the fourth stays open."""
    printed = printed_at(tmp_path / "club")
    folder = read_club(printed.root)
    given = answers(printed.job, NAMES[:3])
    marks = [mark for step in printed.job.instructions.steps if step.jobs == (NAMES[2],) for mark in step.marks]
    box = next(box for mark in marks if mark.mark == "reading" for box in mark.boxes)
    log = printed.root / "engines/023/log"
    before = len(list(log.iterdir()))
    with shown(browser, Entry(folder, printed.sheet_in(folder), VISITED)) as tab:
        button, said = tab.page.locator("#file"), tab.page.locator("#said li")
        for wanted, files, ready in ((given | {f"job-{name}": "" for name in NAMES}, 0, False),
                                     (given | {box: "about so"}, 2, True), (given, 3, True)):  # fmt: skip
            tab.page.evaluate(FILLED, wanted)
            tab.page.locator("#check").press("Enter")
            expect(tab.page.locator("#outcome")).to_be_focused()
            for doubt in tab.page.locator(".accept").all():
                doubt.check()
            expect(button).to_be_enabled(enabled=ready)
            if ready:
                button.press("Enter")
            if files == 2:
                expect(said.filter(has_text="Filed: ")).to_have_count(2)
                expect(said.first).to_contain_text('"about so" cannot be read as one figure')
                expect(button).to_be_disabled()
            elif files:
                expect(tab.page.locator("#end")).to_be_focused()
            assert len(list(log.iterdir())) == before + files
        expect(tab.page.locator("#ended")).to_contain_text("Starter drive - clean and relubricate is not ticked")
        assert tab.said == []
    assert verify(printed.root, "023").problems == ()
