"""The page on which a sheet is looked through: who gets it, what it shows, and what it writes."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from http.client import HTTPConnection
from pathlib import Path
from threading import Thread

import pytest

from docgen.camera.gather import gather
from docgen.club.read import read_club
from docgen.desk.entry import Entry
from docgen.desk.filing import Paper
from docgen.desk.server import LOOPBACK, MAX_BODY, Desk
from docgen.returns.identity import sheet_numbered, typed_number
from docgen.returns.sandbox import Reader
from docgen.returns.verify import verify
from tests.camera.taken import Printed, saved, tilted
from tests.returns.conftest import GOOD, NUMBER, TODAY, Club, club_at

TICKED = ("gap-seen_own", "looked-all", "renew-plate-gasket_renewed")
UNCLEAR = "closing-rotor-free"
PHOTOGRAPH = "photograph.jpg"

PATIENCE = 60.0
"""Seconds that a loaded machine may take; nothing is judged by it."""


@dataclass
class Opened:
    """A desk that is open, and how to speak to it."""

    desk: Desk
    root: Path
    photograph: bytes
    cookie: str = ""

    def ask(self, method: str, path: str, body: object = None, **headers: str) -> tuple[int, str, dict[str, str]]:
        """The status, text and headers of an answer; by default asked as the page asks."""
        connection = HTTPConnection(LOOPBACK, self.desk.server_port, timeout=30)
        usual = {"Host": self.desk.host, "Cookie": self.cookie}
        if method == "POST":
            usual |= {"Origin": f"http://{self.desk.host}", "Content-Type": "application/json"}
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        text = body if isinstance(body, bytes) else json.dumps(body).encode() if body is not None else None
        connection.request(method, path, text, {k: v for k, v in {**usual, **named}.items() if v})
        answer = connection.getresponse()
        found = answer.status, answer.read().decode("utf-8", "replace"), dict(answer.headers)
        connection.close()
        return found

    def come_in(self) -> None:
        """Open the address as the browser does."""
        status, _, headers = self.ask("GET", self.desk.address.partition(self.desk.host)[2])
        assert status == 200
        self.cookie = headers["Set-Cookie"].partition(";")[0]


@pytest.fixture
def opened(tmp_path: Path, paper: Printed, reader: Reader) -> Iterator[Opened]:
    """The small club's sheet on the page, its first face photographed, with one box that cannot be read."""
    club = club_at(tmp_path / "club")
    data = saved(tilted(paper.face(1, TICKED, (UNCLEAR,))))
    found = gather([(Path(PHOTOGRAPH), data)], club.folder, reader)
    entry = Entry(club.folder, club.sheet, TODAY, found.sheets[0], (Paper(data, "jpg", 1),))
    with Desk(entry) as desk:
        serving = Thread(target=desk.serve_forever, daemon=True)
        serving.start()
        yield Opened(desk, club.root, data)
        desk.shutdown()
        serving.join()


def test_it_listens_on_the_loopback_address_alone(opened: Opened) -> None:
    assert opened.desk.server_address[0] == "127.0.0.1"
    assert re.fullmatch(r"http://127\.0\.0\.1:\d+/open/[\w-]{43}", opened.desk.address)


def test_another_user_without_the_token_gets_nothing(opened: Opened) -> None:
    token = opened.desk.address.partition("/open/")[2]
    for path in ("/", "/entry.js", "/page-1.jpg", f"/open/{token[:-1]}", "/open/", f"/open/{token}x"):
        assert opened.ask("GET", path)[0] == 403, path
    for cookie in ("docgen-desk=", "docgen-desk=wrong", 'docgen-desk="', "other=1"):
        status, text, _ = opened.ask("GET", "/", Cookie=cookie)
        assert (status, text) == (403, "open the address that the command printed")
        assert opened.ask("POST", "/file", {"answers": {}}, Cookie=cookie)[0] == 403


def test_the_token_is_good_once(opened: Opened) -> None:
    address = opened.desk.address.partition(opened.desk.host)[2]
    status, text, headers = opened.ask("GET", address)
    assert (status, 'content="0; url=/"' in text) == (200, True)
    assert re.fullmatch(r"docgen-desk=[\w-]{43}; HttpOnly; SameSite=Strict; Path=/", headers["Set-Cookie"])
    assert opened.ask("GET", address)[:2] == (403, "this address was opened before; start the command again")


def test_a_page_of_another_origin_gets_nothing(opened: Opened) -> None:
    """A name that leads here (DNS rebinding), and a post from another site, with the right cookie even."""
    opened.come_in()
    assert opened.ask("GET", "/")[0] == 200
    port = opened.desk.server_port
    for host in ("evil.invalid", f"evil.invalid:{port}", f"localhost:{port}", "127.0.0.1", f"127.0.0.1:{port + 1}"):
        assert opened.ask("GET", "/", Host=host)[:2] == (403, "this is not the address that was opened"), host
    asked = {"answers": GOOD}
    for origin in ("https://evil.invalid", "null", "", f"http://localhost:{port}", f"https://127.0.0.1:{port}"):
        assert opened.ask("POST", "/file", asked, Origin=origin)[0] == 403, origin
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""):
        assert opened.ask("POST", "/file", asked, Content_Type=kind)[0] == 403, kind
    assert list((opened.root / "engines/7A/log").glob("*service*")) == []


def test_what_is_sent_is_limited_and_must_make_sense(opened: Opened) -> None:
    opened.come_in()
    assert opened.ask("POST", "/check", b"{}", Content_Length=str(MAX_BODY + 1))[0] == 413
    for body in (b"", b"[]", b"{", b'{"answers": 3}', b"[" * 5000, b"\xff"):
        assert opened.ask("POST", "/check", body)[:2] == (400, "that is not what the page sends"), body[:9]
    assert opened.ask("POST", "/nowhere", {})[0] == 404
    assert opened.ask("GET", "/../../etc/passwd")[0] == 404


def test_the_page_loads_nothing_from_elsewhere_and_is_kept_nowhere(opened: Opened) -> None:
    opened.come_in()
    for path in ("/", "/entry.js", "/entry.css", "/page-1.jpg"):
        status, text, headers = opened.ask("GET", path)
        assert status == 200
        assert "://" not in text or path.endswith(".jpg"), path
        assert headers["Cache-Control"] == "no-store"
        assert headers["Content-Security-Policy"] == (
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
            "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
        )
    assert " style=" not in opened.ask("GET", "/")[1]
    assert " on" not in re.sub(r">[^<]*<", "><", opened.ask("GET", "/")[1]).replace('value="on"', "")


def test_unclear_boxes_come_first_and_no_figure_is_guessed(opened: Opened) -> None:
    opened.come_in()
    page = opened.ask("GET", "/")[1]
    names = re.findall(r'data-field="([^"]+)"', page)
    assert names[0] == UNCLEAR
    assert len(names) == len(set(names))
    assert set(re.findall(r'name="([^"]+)" checked', page)) == set(TICKED)
    assert [one for one in re.findall(r'<input id="f-[^"]+"[^>]* value="([^"]*)"', page) if one] == []
    assert re.findall(r"<textarea[^>]*>([^<]+)</textarea>", page) == []


def test_a_reading_is_judged_beside_its_limits_with_comma_or_point(opened: Opened) -> None:
    opened.come_in()
    fields = []
    for figure in ("0,30", "0.30", "9.9"):
        _, text, _ = opened.ask("POST", "/check", {"answers": {"measure-rotor-gap": figure}})
        fields.append(json.loads(text)["fields"]["measure-rotor-gap"])
    assert [("OUTSIDE" in one, "within" in one) for one in fields] == [(False, True), (False, True), (True, False)]


def test_nothing_is_filed_before_every_box_and_doubt_is_settled(opened: Opened) -> None:
    opened.come_in()
    answers = {name: text for name, text in GOOD.items() if name != UNCLEAR}
    found = json.loads(opened.ask("POST", "/file", {"answers": answers})[1])
    assert found["filed"] == ""
    assert (found["said"][0]["name"], found["said"][0]["field"]) == ("unclear-box", UNCLEAR)
    assert "unclear-box" not in [one["name"] for one in found["said"][1:]]
    assert list((opened.root / "engines/7A/log").glob("*service*")) == []


def test_it_is_filed_once_with_its_picture_and_verify_knows_both(opened: Opened) -> None:
    opened.come_in()
    page = opened.ask("GET", "/")[1]
    unclear = re.findall(r'<input type="radio" name="([^"]+)" value="on"', page)
    asked = {"answers": {**dict.fromkeys(unclear, ""), **GOOD}}
    doubts = [one["name"] for one in json.loads(opened.ask("POST", "/check", asked)[1])["said"]]
    found = json.loads(opened.ask("POST", "/file", {**asked, "accepted": doubts})[1])
    assert found["said"] == []
    assert found["text"] == f"Filed: {found['filed']}"
    assert opened.desk.done.wait(PATIENCE)
    again = json.loads(opened.ask("POST", "/file", {**asked, "accepted": doubts})[1])
    assert again["text"] == "Already filed."
    digest = sha256(opened.photograph).hexdigest()
    kept = opened.root / f"engines/7A/signed/7A-ROT-03-001-{digest[:12]}.jpg"
    assert kept.read_bytes() == opened.photograph
    assert f"signed/{kept.name}" in (opened.root / found["filed"]).read_text("utf-8")
    assert list((opened.root / "engines/7A/drafts").glob("*")) == []
    assert verified(opened.root) == ([], ())
    kept.write_bytes(b"another")
    assert verified(opened.root)[0] == ["paper-changed"]
    kept.unlink()
    assert verified(opened.root)[0] == ["paper-missing"]


def verified(root: Path) -> tuple[list[str], tuple[str, ...]]:
    found = verify(root, "7A")
    return [one.name for one in found.problems], found.notes


def test_what_was_typed_is_kept_when_the_page_is_left(opened: Opened) -> None:
    opened.come_in()
    opened.ask("POST", "/check", {"answers": {"done-by": "Bo Lind", "stranger": "x"}})
    left = {"left": True, "text": "Not filed. What was typed is kept."}
    assert json.loads(opened.ask("POST", "/leave", {})[1]) == left
    assert opened.desk.done.wait(PATIENCE)
    folder = read_club(opened.root)
    entry = Entry(folder, sheet_numbered(typed_number(NUMBER), folder), TODAY)
    assert 'name="done-by" value="Bo Lind"' in entry.page()
    assert "stranger" not in entry.page()


def test_the_same_page_without_a_photograph(club: Club) -> None:
    page = Entry(club.folder, club.sheet, TODAY).page()
    assert 'type="radio"' not in page
    assert 'class="crop"' not in page
    assert "page-1.jpg" not in page
    assert set(re.findall(r'data-field="([^"]+)"', page)) >= set(GOOD)
