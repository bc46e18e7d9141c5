"""A command loads only what it uses: help nothing but click, what prints nothing no printing library."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import click
import pytest

from docgen.cli._stamps import PLACE
from docgen.cli.frame import docgen, short_help

DRAWS = {
    "weasyprint", "tinycss2", "tinyhtml5", "pydyf", "fontTools", "PIL", "pypdf", "pikepdf", "pypdfium2", "segno",
    "numpy", "scipy", "multiprocessing",
}  # fmt: skip
SMALL = {
    "docgen", "docgen.cli", "docgen.cli.frame", "docgen.cli._breaks", "docgen.cli._replay", "docgen.cli._stamps",
    "docgen.club", "docgen.club.files", "docgen.club.problem", "docgen.club.text", "docgen.club.yamlbytes",
    "docgen.desk", "docgen.desk.clock", "docgen.desk.fingerprint",
}  # fmt: skip


def loaded(words: list[str], club: Path) -> set[str]:
    """What a command imports, run as a member would, in a process of its own."""
    code = (
        f"import atexit, sys; sys.argv = ['docgen', '--club', {str(club)!r}, *{words!r}]\n"
        "atexit.register(lambda: print('LOADED', *sys.modules))\nfrom docgen.cli import main; main()"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    return set(done.stdout.rpartition("LOADED ")[2].split())


def test_help_is_what_the_commands_say() -> None:
    context = click.Context(docgen)
    names = docgen.list_commands(context)
    assert len(names) > 30
    assert {name: short_help(name) for name in names} == {
        name: docgen.get_command(context, name).get_short_help_str(100)  # type: ignore[union-attr]
        for name in names
    }
    ours, theirs = (click.HelpFormatter(width=100) for _ in range(2))
    docgen.format_commands(context, ours)
    click.Group.format_commands(docgen, context, theirs)
    assert ours.getvalue() == theirs.getvalue()


def test_names_are_completed_as_click_does() -> None:
    context = click.Context(docgen)
    told = [
        [(one.value, one.type, one.help) for one in group.shell_complete(docgen, context, "re")]
        for group in (type(docgen), click.Group)
    ]
    assert told[0] == told[1]
    assert [value for value, _, _ in told[0]] == ["reading", "rebuilt", "receive", "release"]


def test_help_loads_nothing_but_click(tmp_path: Path) -> None:
    here = loaded(["--help"], tmp_path)
    assert "click" in here
    assert {name for name in here if name.startswith("docgen")} == SMALL
    own = {name.partition(".")[0] for name in here} - {"click", "docgen", "__main__"} - set(sys.stdlib_module_names)
    assert {name for name in own if not name.startswith(("_", "sitecustomize"))} == set()


def test_the_help_of_print_loads_no_reader(tmp_path: Path) -> None:
    """A print without a change ends as soon: it says again what it said."""
    here = loaded(["print", "--help"], tmp_path)
    assert "docgen.cli.print" in here
    assert {"pydantic", "yaml", "docgen.club.folder"} & here == set()


@pytest.mark.parametrize("words", [["due"], ["correct", "017"], ["note", "finding"], ["engine", "1"], ["current"],
                                   ["components"], ["verify"]])  # fmt: skip
def test_what_prints_nothing_loads_nothing_that_draws(words: list[str]) -> None:
    root = Path(__file__).resolve().parents[2]
    shutil.rmtree(root / "out" / PLACE, ignore_errors=True)  # what was said before is else said again, and nothing read
    here = loaded(words, root)
    assert "pydantic" in here, "it read the club"
    assert DRAWS & here == set()


def test_of_what_was_proofed_before_no_rule_is_loaded(tmp_path: Path) -> None:
    root = Path(__file__).resolve().parents[2]
    for name in ("procedures", "models", "engines"):
        shutil.copytree(root / name, tmp_path / name, ignore=shutil.ignore_patterns("issued"))
    shutil.copy(root / "club.yaml", tmp_path)
    assert {"docgen.proof.rulebook", "docgen.job.simulate"} <= loaded(["proof"], tmp_path)
    path = tmp_path / "engines/017/engine.yaml"
    path.write_text(path.read_text("utf-8") + "# read again\n", "utf-8")
    here = loaded(["proof"], tmp_path)
    assert "docgen.club.folder" in here, "it read the club"
    assert [name for name in here if name.startswith(("docgen.proof.rule", "docgen.job.simul"))] == []
