"""The layers point one way, and the pure ones touch neither clock, network, environment nor disk.

The contract in pyproject.toml is tried on small made-up trees, so that it is known to bind before a layer exists.
"""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
LAYERS = ["cli", "returns", "share", "press", "sheets", "proof", "plan", "job", "club", "trade"]


def lint(folder: Path) -> tuple[int, str]:
    """Import-linter's exit code and its words, for the tree in `folder`."""
    program = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([program, "--no-logo", "--no-cache"], cwd=folder, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


def tree(folder: Path, imports: dict[str, str]) -> Path:
    """A package docgen in `folder`: one module a name, each importing what its text says."""
    shutil.copy(ROOT / "pyproject.toml", folder)
    for name, text in {"docgen": "", **imports}.items():
        package = folder.joinpath(*name.split("."))
        package.mkdir(parents=True, exist_ok=True)
        package.joinpath("__init__.py").write_text(text, encoding="utf-8")
    return folder


def test_this_tree_keeps_the_contract() -> None:
    code, words = lint(ROOT)
    assert code == 0, words
    assert "Contracts: 1 kept, 0 broken." in words


def test_every_import_down_the_ring_is_allowed(tmp_path: Path) -> None:
    rows = [["cli"], ["returns", "share"], ["press"], ["sheets"], ["proof", "plan"], ["job"], ["club"], ["trade"]]
    below = {name: [low for row in rows[place + 1 :] for low in row] for place, row in enumerate(rows) for name in row}
    assert sorted(below) == sorted(LAYERS)
    modules = {f"docgen.{name}": "".join(f"import docgen.{low}\n" for low in lows) for name, lows in below.items()}
    code, words = lint(tree(tmp_path, modules))
    assert code == 0, words


# Neighbours in the list (two of the pairs stand in one row), and some that are farther apart.
UPWARD = [*zip(LAYERS[1:], LAYERS, strict=False), ("trade", "cli"), ("returns", "share"), ("proof", "plan")]


@pytest.mark.parametrize(("low", "high"), UPWARD)
def test_an_import_up_or_across_the_ring_is_refused(low: str, high: str, tmp_path: Path) -> None:
    code, words = lint(tree(tmp_path, {f"docgen.{low}": f"import docgen.{high}\n", f"docgen.{high}": ""}))
    assert code == 1, words
    assert f"docgen.{low} is not allowed to import docgen.{high}" in words


def test_a_folder_that_stands_in_no_layer_is_refused(tmp_path: Path) -> None:
    code, words = lint(tree(tmp_path, {"docgen.trade": "", "docgen.extras": ""}))
    assert code == 1
    assert "docgen.extras" in words


# --- purity ----------------------------------------------------------------------------------------------------------

PURE = ["trade", "job", "proof", "plan", "sheets"]
MODULES = {
    *("socket", "ssl", "http", "http.client", "urllib.request", "subprocess", "multiprocessing"),
    *("time", "random", "secrets", "tempfile", "shutil"),
}
CALLS = {
    *("date.today", "datetime.now", "datetime.today", "datetime.utcnow", "os.getenv", "os.environ"),
    *("write_text", "write_bytes", "mkdir", "unlink", "rename", "touch", "open", "input"),
}


def impure(source: str) -> list[str]:
    """What a pure module may not do, as `line: name`."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names if alias.name in MODULES]
        elif isinstance(node, ast.ImportFrom):
            whole = {node.module or "", *(f"{node.module}.{alias.name}" for alias in node.names)}
            found += [(node.lineno, name) for name in sorted(whole & (MODULES | CALLS))]
        elif isinstance(node, ast.Call) or (isinstance(node, ast.Attribute) and node.attr == "environ"):
            name = ast.unparse(node.func if isinstance(node, ast.Call) else node)
            tails = {name, ".".join(name.split(".")[-2:]), name.split(".")[-1]}
            found += [(node.lineno, tail) for tail in sorted(tails & CALLS)]
    return [f"{line}: {name}" for line, name in sorted(set(found))]


@pytest.mark.parametrize(
    ("source", "faults"),
    [
        ("import time", ["1: time"]),
        ("from urllib.request import urlopen", ["1: urllib.request"]),
        ("from urllib import request", ["1: urllib.request"]),
        ("from os import environ", ["1: os.environ"]),
        ("import datetime\nday = datetime.date.today()", ["2: date.today"]),
        ("from datetime import datetime as d, date\nday = date.today()", ["2: date.today"]),
        ("import os\nhome = os.environ['HOME']", ["2: os.environ"]),
        ("def f(path):\n    path.write_text('x')", ["2: write_text"]),
        ("with open('x') as file: pass", ["1: open"]),
        ("input('?')", ["1: input"]),
        ("from datetime import date, time\nday = date(2027, 2, 20)\nnow = time(12, 30)", []),
        ("def f(valve):\n    return valve.open and valve.touch", []),
        ("from importlib.resources import files\ntable = files('docgen').joinpath('t.csv').read_text()", []),
    ],
)
def test_the_purity_check_sees_what_it_should(source: str, faults: list[str]) -> None:
    assert impure(source) == faults


def test_pure_layers_touch_neither_clock_network_environment_nor_disk() -> None:
    modules = [path for layer in PURE for path in sorted((ROOT / "docgen" / layer).rglob("*.py"))]
    assert len(modules) > 10
    faults = {str(path.relative_to(ROOT)): impure(path.read_text(encoding="utf-8")) for path in modules}
    assert {name: lines for name, lines in faults.items() if lines} == {}
