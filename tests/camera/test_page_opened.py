"""`docgen file` with photographs and `docgen enter` open the page, wait for it, and say what became of it."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import closing, suppress
from http.client import HTTPConnection
from pathlib import Path
from threading import Thread
from types import SimpleNamespace
from urllib.parse import urlparse

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from tests.camera.taken import Printed, saved
from tests.returns.conftest import GOOD, NUMBER, TODAY, club_at

TICKED = tuple(name for name, text in GOOD.items() if text == "on")
Visit = Callable[[Callable[[str, object], dict[str, object]]], None]
"""What somebody does on the page: asks for a path with a body, and gets the answer."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A club of its own, with its sheet issued."""
    return club_at(tmp_path / "club").root


@pytest.fixture
def browser(monkeypatch: pytest.MonkeyPatch) -> Callable[[Visit], list[str]]:
    """Stand in for a browser at a terminal: every address that is opened is visited; the addresses."""

    def sits(visit: Visit) -> list[str]:
        opened: list[str] = []

        def open_(address: str) -> bool:
            opened.append(address)
            Thread(target=visited, args=(address, visit), daemon=True).start()
            return True

        monkeypatch.setattr("docgen.cli._page.sys", SimpleNamespace(stdin=SimpleNamespace(isatty=lambda: True)))
        monkeypatch.setattr("webbrowser.get", lambda: None)
        monkeypatch.setattr("webbrowser.open", open_)
        return opened

    return sits


def visited(address: str, visit: Visit) -> None:
    """Come in by the address, and do there what `visit` does."""
    place = urlparse(address)

    def ask(path: str, body: object = None, **headers: str) -> tuple[str, str]:
        text = None if body is None else json.dumps(body)
        with closing(HTTPConnection(place.netloc, timeout=60)) as connection:
            connection.request("GET" if text is None else "POST", path, text, headers)
            answer = connection.getresponse()
            return answer.read().decode(), answer.headers.get("Set-Cookie", "").partition(";")[0]

    cookie = ask(place.path)[1]
    own = {"Cookie": cookie, "Origin": f"http://{place.netloc}", "Content-Type": "application/json"}
    try:
        visit(lambda path, body: json.loads(ask(path, body, **own)[0]))
    finally:
        with suppress(OSError):  # filed, and gone
            ask("/leave", {}, **own)


def filed(ask: Callable[[str, object], dict[str, object]]) -> None:
    """Type everything, say that what is in doubt is so, and file it."""
    said = ask("/check", {"answers": GOOD})["said"]
    assert isinstance(said, list)
    ask("/file", {"answers": GOOD, "accepted": [one["name"] for one in said]})


def begun(ask: Callable[[str, object], dict[str, object]]) -> None:
    """Type a name, and leave the rest for another day."""
    ask("/check", {"answers": {"done-by": "Bo Lind"}})
    ask("/leave", {})


def run(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words, "--on", str(TODAY)])


def test_a_sheet_is_typed_in_on_the_page(root: Path, browser: Callable[[Visit], list[str]]) -> None:
    opened = browser(filed)
    done = run(root, "enter", NUMBER)
    (event,) = (root / "engines/7A/log").glob("*service*")
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, f"Filed: engines/7A/log/{event.name}")
    assert [urlparse(address).hostname for address in opened] == ["127.0.0.1"]
    assert f"{NUMBER} is open in the browser: {opened[0]}" in done.output


def test_what_is_left_is_kept_and_not_filed(root: Path, browser: Callable[[Visit], list[str]]) -> None:
    browser(begun)
    done = run(root, "enter", NUMBER)
    assert (done.exit_code, done.output.splitlines()[-1]) == (1, "Not filed. What was typed is kept.")
    assert list((root / "engines/7A/log").glob("*service*")) == []
    assert len(list((root / "engines/7A/drafts").iterdir())) == 1


def test_photographs_open_the_page(
    root: Path, tmp_path: Path, paper: Printed, browser: Callable[[Visit], list[str]]
) -> None:
    photographs = tmp_path / "photographs"
    photographs.mkdir()
    for page in paper.pages:
        (photographs / f"{page}.png").write_bytes(saved(paper.face(page, TICKED), "PNG"))
    opened = browser(filed)
    done = run(root, "file", str(photographs))
    assert (done.exit_code, len(opened)) == (0, 1), done.output
    (event,) = (root / "engines/7A/log").glob("*service*")
    kept = list((root / "engines/7A/signed").iterdir())
    assert len(kept) == 2
    assert [f"signed/{path.name}" in event.read_text("utf-8") for path in kept] == [True, True]


def test_the_terminal_opens_none(root: Path, browser: Callable[[Visit], list[str]]) -> None:
    opened = browser(filed)
    run(root, "enter", NUMBER, "--terminal")
    run(root, "enter", NUMBER, "--every")
    assert opened == []
