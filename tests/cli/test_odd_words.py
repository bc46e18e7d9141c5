"""A name, a finding, a number of whatever characters is kept as it was typed, or refused in words; nothing between."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from docgen.cli._saying import say_json
from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.club.text import UNSEEN
from docgen.desk import begin_club
from tests.cli.record_club import log_of, numbered, on_the_day, say
from tests.remembered import begun_from

KEPT = [
    *("Ada: Fenn", "- Ada", "key:word", "# Ada", "Ada #3", "'Ada'", '"Ada"', "{Ada}", "[Ada]", "&Ada", "*Ada", "?"),
    *("~", "null", "true", "12", "1.0", "@Ada", "`Ada`", "%Ada", "|", "> Ada", "Ada\\nFenn", "=Ada", "<b>Ada</b>"),
    *("!Ada", "{{ 7*7 }}", "Ágnes Orosz", "é" * 300, "Ada, Fenn; Hale", "\u5c71\u7530", "..."),
]  # fmt: skip
REFUSED = {
    "Ada\tFenn": "U+0009",
    "Ada\nFenn": "U+000A",
    "Ada\r\nFenn": "U+000D",
    "Ada\x00Fenn": "U+0000",
    "Ada\x07Fenn": "U+0007",
    "Ada\x1b[31mFenn": "U+001B",
    "Ada\x7f": "U+007F",
    "Ada\x85Fenn": "U+0085",
    "Ada\u200bFenn": "U+200B",
    "Ada\u202eFenn": "U+202E",
    "Ada\u2028Fenn": "U+2028",
    "\ufeffAda": "U+FEFF",
    "Ada\ufffd": "U+FFFD",
    "\udce9": "U+DCE9",
}
ON = ("--on", "2030-06-10", "--yes")


def last(root: Path, folder: Folder, field: str) -> str:
    return str(getattr(folder.engines["7A"].log.events[-1], field))


WAYS: dict[str, tuple[Callable[[str], tuple[str, ...]], Callable[[Path, Folder], str]]] = {
    "a finding": (lambda text: ("note", "finding", *ON, "--", "7A", text), lambda r, f: last(r, f, "finding")),
    "a keeper": (lambda text: ("note", "keeper", *ON, "--", "7A", text), lambda r, f: last(r, f, "keeper")),
    "who says so": (lambda text: ("note", "finding", "7A", "x", *ON, f"--by={text}"), lambda r, f: last(r, f, "by")),
    "a note": (lambda text: ("ran", "7A", "36", *ON, f"--note={text}", "--again"), lambda r, f: last(r, f, "note")),
    "a reason": (
        lambda text: ("correct", "7A", "--strike", *ON, f"--why={text}", "--", "WHICH"), lambda r, f: last(r, f, "why"),
    ),
}  # fmt: skip


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    on_the_day(monkeypatch)
    return numbered(tmp_path / "club")


def typed(root: Path, way: str, text: str) -> tuple[str, ...]:
    if way == "a reason":
        say(root, "ran", "7A", "36", "--again", *ON)
    found = log_of(root, "7A")
    named = next((name.rpartition("-")[2][:12] for name in found if "run" in name), "")
    words = WAYS[way][0](text)
    return tuple(named if word == "WHICH" else word for word in words)


@pytest.mark.parametrize("way", WAYS)
def test_what_is_filed_is_kept_as_it_was_typed(root: Path, way: str) -> None:
    for text in KEPT:
        result = say(root, *typed(root, way, text))
        assert result.exit_code == 0, (text, result.output)
        folder = read_club(root)
        assert ([str(p) for p in folder.problems], WAYS[way][1](root, folder)) == ([], text)
        for path in (root / "engines/7A/log").iterdir():
            path.unlink()
    for command in (("engine", "7A"), ("verify",), ("due",), ("correct", "7A")):
        assert not UNSEEN.search(say(root, *command).output)


@pytest.mark.parametrize("way", WAYS)
def test_what_nobody_sees_is_refused_in_words(root: Path, way: str) -> None:
    for text, code in REFUSED.items():
        words = typed(root, way, text)
        before = log_of(root, "7A")
        result = say(root, *words)
        assert (result.exit_code, log_of(root, "7A")) == (2, before), text
        assert code in result.stderr, text
        assert not UNSEEN.search(result.output), text


@pytest.mark.parametrize("text", KEPT)
def test_a_club_may_be_called_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(begin_club, "read_club", begun_from)
    result = say(tmp_path, "new", "club", str(tmp_path / "c"), f"--name={text}", "--take", "nothing", "--yes")
    assert result.exit_code == 0, result.output
    folder = read_club(tmp_path / "c")
    assert ([str(p) for p in folder.problems], folder.club and folder.club.value.club) == ([], text)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Ada\u200bFenn", "U+200B (zero width space) cannot be seen"),
        ("Club\nof two lines", "U+000A does not belong in it: write it on one line, with spaces"),
        ("Club \N{ARABIC-INDIC DIGIT ONE}", "U+0661 (arabic-indic digit one) looks like a number's digit"),
        ("A" * 30_000, "this text is 30000 characters long; the most that is read is 20000"),
    ],
)
def test_a_name_that_could_not_be_read_back_is_refused(root: Path, tmp_path: Path, text: str, said: str) -> None:
    club = say(root, "new", "club", str(tmp_path / "c"), f"--name={text}", "--take", "nothing", "--yes")
    engine = say(root, "new", "engine", "9", "--model", "willow-80", f"--keeper={text}", "--yes")
    for result in (club, engine):
        assert result.exit_code == 2
        assert said in result.stderr
    assert not (tmp_path / "c").exists()
    assert not (root / "engines/9").exists()


def test_a_name_that_is_typed_at_the_question_is_looked_at_too(root: Path) -> None:
    result = say(root, "new", "engine", "9", "--model", "willow-80", typed="Ada\u200bFenn\nAda Fenn\n\n\n\n")
    assert result.exit_code == 0, result.output
    assert "U+200B (zero width space) cannot be seen" in result.output
    assert read_club(root).engines["9"].engine.keeper == "Ada Fenn"


@pytest.mark.parametrize("number", ["9\n", "9\r", "9\x00", "9\u200b", "\N{FULLWIDTH DIGIT NINE}"])
def test_no_engine_bears_such_a_number(root: Path, number: str) -> None:
    result = say(root, "new", "engine", "--model", "willow-80", "--keeper", "A", "--yes", "--", number)
    assert result.exit_code == 2
    assert sorted(path.name for path in (root / "engines").iterdir()) == ["7A", "8B"]


def test_a_file_may_have_the_name_that_it_has(root: Path, tmp_path: Path) -> None:
    paper = tmp_path / "sheet\u200b.pdf"
    paper.write_bytes(b"no PDF")
    result = say(root, "file", str(paper))
    assert (result.exit_code, "refused not-a-pdf" in result.stdout) == (1, True)
    assert "sheet<U+200B>.pdf" in result.stdout
    assert not UNSEEN.search(result.output)


def test_json_holds_no_character_that_a_terminal_obeys(capsys: pytest.CaptureFixture[str]) -> None:
    data = {"text": "a\x1bb\u202ec\u200bd\U000e0041e\x9bf", "plain": "Ágnes Őry"}
    say_json(data)
    said = capsys.readouterr().out
    assert not UNSEEN.search(said)
    assert json.loads(said) == data
    assert "Ágnes Őry" in said
