"""Examples in the help of commands, README and docs: typed as they stand at the demo club, each one is understood.

What prints is left to the tests of printing, and what needs a paper in hand to those of filing: their examples are
only held against the names that the demo has. A sheet's number must be one that a sheet could bear.
"""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from docgen.cli.frame import docgen
from docgen.club.read import read_club
from docgen.desk import moves, notes, runs
from docgen.job.number import parse_number

ROOT = Path(__file__).resolve().parents[2]
DAY, TODAY = date(2027, 2, 20), date(2027, 5, 1)
PAGES = ("README.md", "docs/commands.md", "docs/filing.md", "docs/record.md", "docs/sharing.md", "docs/languages.md")
TYPED = {"ran", "move", "components", "note", "correct", "due", "engine", "verify", "join", "current", "proof", "pack",
         "rebuilt", "schema"}  # fmt: skip
NEEDS = ("sunday.csv", "--head 4cb5", "current 017-", "--write")
"""A table, a printed head, a printed sheet, a file to write: not in the demo, or not here."""


def examples() -> Iterator[tuple[str, list[str]]]:
    """Where an example stands, and its words behind `docgen`; names in capitals and dots are no examples."""
    for page in PAGES:
        text = (ROOT / page).read_text("utf-8")
        inline = [line for line in re.findall(r"`docgen ([^`]+)`", text) if line not in ("note", "pack", "rebuilt")]
        blocks = [line for block in re.findall(r"^```\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
                  for line in re.findall(r"^docgen (.+)$", block, re.MULTILINE)]  # fmt: skip
        yield from ((page, words) for line in (*inline, *blocks) if (words := _words(line)))
    for path, command in _commands(docgen, ()):
        told = [*(command.help or "").split("\n\n"), command.epilog or ""]
        shown = "\n".join(part for part in told if part.startswith("\b"))
        for line in re.findall(r"^ *docgen (.+)$", shown, re.MULTILINE):
            if words := _words(line):
                yield " ".join(path), words


def _commands(group: click.Group, above: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        yield (*above, name), command
        if isinstance(command, click.Group):
            yield from _commands(command, (*above, name))


def _words(line: str) -> list[str]:
    """The words of an example, without what explains it behind two blanks."""
    words = shlex.split(re.split(r" {2,}", line.strip())[0])
    return [] if any(re.fullmatch(r"[A-Z]{4,}|NNN|DAY|\.\.\.", word) for word in words) else words


FOUND = [*dict.fromkeys((where, tuple(words)) for where, words in examples())]
SHORT = [one for one in FOUND if one[1][0] in TYPED and not any(need in shlex.join(one[1]) for need in NEEDS)]
WITHOUT_DAY = ("verify", "pack", "schema")


def test_there_are_examples() -> None:
    assert len(FOUND) > 100
    assert len(SHORT) > 50
    assert len({words[0] for _, words in FOUND}) > 25


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("demo")
    for name in ("club.yaml", "stock.yaml", "glossary.yaml"):
        shutil.copy(ROOT / name, root / name)
    for name in ("procedures", "models", "engines", "schemas"):
        shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("issued", "drafts"))
    return root


@pytest.mark.parametrize(("where", "words"), SHORT, ids=lambda one: one if isinstance(one, str) else shlex.join(one))
def test_an_example_is_understood(
    demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, where: str, words: tuple[str, ...]
) -> None:
    for module in (moves, notes, runs):
        monkeypatch.setattr(module, "today", lambda: TODAY)
    monkeypatch.chdir(tmp_path)
    typed = [*words, *(() if "--on" in words or words[0] in WITHOUT_DAY else ("--on", DAY.isoformat()))]
    result = CliRunner().invoke(docgen, ["--club", str(demo), *typed], prog_name="docgen", input="n\n" * 9)
    assert (result.exit_code in (0, 1), "refused" in result.output) == (True, False), f"{where}: {result.output}"


def test_names_in_examples_are_of_the_demo_and_numbers_could_be_printed() -> None:
    club = read_club(ROOT)
    jobs = {*club.codes, *club.procedures}
    numbers = 0
    for where, words in FOUND:
        for option, value in pairwise(words):
            if option == "--job":
                assert value in jobs, f"{where}: {words}"
        for word in words:
            if re.fullmatch(r"\w{1,6}-[A-Z]{3}-\d\d-\d{3}-\w+-\w", word):
                parse_number(word)
                numbers += 1
    assert numbers >= 5
