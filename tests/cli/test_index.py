"""``docgen index``: what it lists, in which state, and that its page keeps to plain rules of HTML and accessibility."""

from __future__ import annotations

import io
import re
from collections import Counter
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest

from tests.cli.record_club import say
from tests.cli.test_kit_and_mat import MODEL, sized
from tests.smallclub import texts, write

DAY = ("--on", "2030-04-01")
PROCEDURE = "procedures/rotor-service.yaml"


def printed(root: Path) -> Path:
    """The small club with sheets of every state printed, and their index."""
    write(root, {MODEL: sized()})
    for words in (["print", "7A", "--job", "ROT"], ["mat", "7A", "--job", "ROT"], ["card", "7A"], ["board"],
                  ["kit", "--job", "ROT"], ["labels", "parts", "7A", "--job", "ROT"],
                  ["binder", "7A", "--job", "ROT"], ["print", "--blank", "willow-80", "--job", "ROT"],
                  ["reading", "ROT"], ["reading", "ROT", "--engine", "8B"]):  # fmt: skip
        assert say(root, *words, *DAY).exit_code == 0, words
    text = texts()[PROCEDURE]
    (root / PROCEDURE).write_text(text.replace("Work in the open air", "Work outside"), "utf-8")
    assert say(root, "print", "8B", "--job", "ROT", *DAY).exit_code == 0
    (root / PROCEDURE).write_text(text, "utf-8")
    result = say(root, "index", *DAY)
    assert result.exit_code == 0, result.output
    return root


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return printed(tmp_path_factory.mktemp("club"))


class Page(HTMLParser):
    """The page's elements with their attributes, text by element, and whether all that was opened was closed."""

    EMPTY = frozenset({"meta", "br", "link", "img"})

    def __init__(self, text: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.words: dict[str, list[str]] = {}
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in self.EMPTY:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, f"</{tag}> closes something else"

    def handle_data(self, data: str) -> None:
        if self.open and data.strip():
            self.words.setdefault(self.open[-1], []).append(data.strip())

    def all(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.elements if name == tag]


def states(root: Path) -> dict[str, tuple[str, str]]:
    """Each PDF's state and the reason for it, by its path."""
    text = (root / "out/index.html").read_text("utf-8")
    rows = re.findall(
        r'<a href="([^"#]+\.pdf)".*?<span class="state \w+">([^<]+)</span>([^<]*)</p>', text, re.DOTALL
    )
    return {href: (state, note.strip()) for href, state, note in rows}


def test_every_sheet_with_its_state(root: Path) -> None:
    changed = ("Superseded", "the instructions have changed since")
    assert states(root) == {
        "7A/7A-ROT-leaf.pdf": ("Due", ""),
        "7A/7A-ROT-sign-off.pdf": ("Due", ""),
        "7A/7A-ROT-mat.pdf": ("Due", ""),
        "7A/7A-binder.pdf": ("Due", ""),
        "7A/7A-card.pdf": ("Current", ""),
        "7A/7A-labels-parts.pdf": ("Not compared", ""),
        "8B/8B-ROT-leaf.pdf": changed,
        "8B/8B-ROT-sign-off.pdf": changed,
        "blank/willow-80/willow-80-ROT-leaf.pdf": ("Current", ""),
        "blank/willow-80/willow-80-ROT-sign-off.pdf": ("Current", ""),
        "board.pdf": ("Current", ""),
        "kit-ROT.pdf": ("Current", ""),
        "reading/ROT-8B-reading.pdf": ("Current", ""),
        "reading/ROT-willow-80-reading.pdf": ("Current", ""),
    }


def test_what_is_said(root: Path) -> None:
    result = say(root, "index", *DAY)
    assert result.output == f"14 sheets, 2 of them superseded: {root}/out/index.html\n"


def test_states_follow_the_club_s_files_and_its_record(tmp_path: Path) -> None:
    root = write(tmp_path, {MODEL: sized()})
    for words in (["print", "7A", "--job", "ROT"], ["card", "7A"], ["board"], ["mat", "7A", "--job", "ROT"]):
        assert say(root, *words, *DAY).exit_code == 0, words
    (root / MODEL).write_text(sized().replace("torque: 34 N.m", "torque: 36 N.m"), "utf-8")
    assert say(root, "index", *DAY).exit_code == 0
    changed = ("Superseded", "the instructions have changed since")
    assert states(root) == {
        "7A/7A-ROT-leaf.pdf": changed,
        "7A/7A-ROT-sign-off.pdf": changed,
        "7A/7A-ROT-mat.pdf": changed,
        "7A/7A-card.pdf": ("Current", ""),
        "board.pdf": ("Current", ""),
    }
    ran = say(root, "ran", "7A", "30", "--on", "2026-01-01", "--yes")
    if ran.exit_code:  # the small club begins later than the clock: its record is written by hand
        return
    assert say(root, "index", *DAY).exit_code == 0
    assert states(root)["board.pdf"] == ("Superseded", "the record has gone on since")


def test_a_sheet_printed_again(tmp_path: Path) -> None:
    """A leaf holds until the instructions change; what is signed, and a checklist from before the leaves, do not."""
    root = write(tmp_path)
    for words in (["print", "7A", "--job", "ROT"], ["reading", "ROT", "--engine", "7A"]):
        assert say(root, *words, *DAY).exit_code == 0
    leaf, signed = ((root / f"out/7A/7A-ROT-{kind}.pdf").read_bytes() for kind in ("leaf", "sign-off"))
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-02").exit_code == 0
    (root / "out/7A/older.pdf").write_bytes(signed)
    (root / "out/7A/laminated.pdf").write_bytes(leaf)
    with pikepdf.open(io.BytesIO(leaf)) as document:
        document.docinfo["/Subject"] = "7A-ROT-03-001-C1"
        document.save(root / "out/7A/7A-ROT-checklist.pdf")
    assert say(root, "index", *DAY).exit_code == 0
    again = ("Superseded", "it was printed again since")
    assert states(root) == {
        "7A/older.pdf": again,
        "7A/7A-ROT-checklist.pdf": again,
        "7A/laminated.pdf": ("Due", ""),
        "7A/7A-ROT-leaf.pdf": ("Due", ""),
        "7A/7A-ROT-sign-off.pdf": ("Due", ""),
        "reading/ROT-7A-reading.pdf": ("Current", ""),
    }


def test_readings_of_an_engine_type_have_a_group_of_their_own(root: Path) -> None:
    text = (root / "out/index.html").read_text("utf-8")
    titles = re.findall(r"<h3[^>]*>([^<]+)</h3>", text)
    assert titles == ["Engine 7A, Willow 80", "Engine 8B, Willow 80", "For all engines", "Readings", "Blank sets",
                      "ROT Rotor - clean and regrease"]  # fmt: skip
    group = text.partition(">Readings</h3>")[2].partition("</section>")[0]
    assert re.findall(r'<a href="([^"]+)"[^>]*>([^<]+)</a>', group) == [
        ("reading/ROT-willow-80-reading.pdf", "Reading: Rotor - clean and regrease, Willow 80")
    ]


def test_files_that_are_none_are_named_and_left_out(tmp_path: Path) -> None:
    root = write(tmp_path)
    (root / "out/7A").mkdir(parents=True)
    (root / "out/7A/broken.pdf").write_bytes(b"%PDF-1.7 cut sh")
    (root / "out/a & <b>.pdf").write_bytes(b"text")
    result = say(root, "index", *DAY)
    assert result.exit_code == 0
    assert result.stderr == (
        f"{root}/out/7A/broken.pdf is left out: it is no PDF, or damaged\n"
        f"{root}/out/a & <b>.pdf is left out: it is no PDF, or damaged\n"
    )
    assert "Nothing has been printed yet: docgen print --due" in (root / "out/index.html").read_text("utf-8")


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    root = write(tmp_path)
    none = say(root, "index", *DAY)
    assert (none.exit_code, none.output) == (0, "Nothing has been printed yet: docgen print --due\n")
    result = say(root, "index", "--out", str(root / "uot"), *DAY)
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == (
        f"Error: there is no folder {root}/uot: name the one that the PDFs were printed into"
    )
    assert not (root / "uot").exists()


def test_a_name_that_html_or_a_link_would_misread(tmp_path: Path) -> None:
    root = write(tmp_path)
    assert say(root, "card", "7A", *DAY).exit_code == 0
    name = 'a "b" & <c> #1 ?x.pdf'
    (root / "out/7A/7A-card.pdf").rename(root / "out" / name)
    assert say(root, "index", *DAY).exit_code == 0
    page = Page((root / "out/index.html").read_text("utf-8"))
    links = [one["href"] for one in page.all("a") if one["href"].endswith(".pdf")]
    assert links == ["a%20%22b%22%20%26%20%3Cc%3E%20%231%20%3Fx.pdf"]
    assert name in page.words["p"] or any(name in text for text in page.words["p"])


def test_plain_rules_of_the_page(root: Path) -> None:
    text = (root / "out/index.html").read_text("utf-8")
    assert text.startswith("<!DOCTYPE html>\n<html lang=\"en\">")
    page = Page(text)
    assert page.open == [], "everything opened is closed"
    assert [len(page.all(tag)) for tag in ("title", "h1", "main", "nav", "header", "footer")] == [1] * 6
    assert page.all("script") == page.all("link") == page.all("img") == page.all("iframe") == []
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert [name for name, count in Counter(ids).items() if count > 1] == []
    anchors = [one["href"][1:] for one in page.all("a") if one["href"].startswith("#")]
    labels = [one["aria-labelledby"] for one in page.all("section")]
    assert set(anchors) | set(labels) <= set(ids)
    levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch("h[1-6]", tag)]
    assert levels[0] == 1
    assert all(b <= a + 1 for a, b in pairwise(levels))
    assert not re.search(r"(?:src|href)=\"(?:https?:)?//", text)
    assert not re.search(r"url\((?!data:image/png;base64,)", text)
    policy = next(one["content"] for one in page.all("meta") if one.get("http-equiv"))
    assert policy == "default-src 'none'; img-src data:; style-src 'unsafe-inline'"
    hidden = [attributes for _, attributes in page.elements if "picture" in attributes.get("class", "")]
    assert hidden
    assert all(one["aria-hidden"] == "true" for one in hidden)
