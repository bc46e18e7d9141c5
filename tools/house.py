"""How large the house is, in figures: ``python -m tools.house``.

Lines and files are those of Python modules under docgen/. What a print imports, and what help costs, is measured in
processes of their own, on a copy of the demo club, so that nothing is filed here.
"""

from __future__ import annotations

import ast
import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

ROOT = Path(__file__).resolve().parent.parent
SHORT = 30
"""A module with fewer lines than this is a short one."""
TABLES = {".csv", ".yaml", ".j2"}
"""What is no module and may still name a verb."""
PAIR = ("packs", "Packs", "Packing")
"""The verb for cloths and plugs put in, by its names; its file holds the one that takes them out as well."""
CLUB = ("club.yaml", "glossary.yaml", "stock.yaml", "procedures", "models", "engines")
PRINT = ("print", "017", "--job", "CLU", "--on", "2027-02-20", "--processes", "1")
RUNS = 5
_CALL = "import sys; from docgen.cli import main; sys.argv[1:] = {words!r}; main()"
_WATCHED = """
import atexit, sys
atexit.register(lambda: open({told!r}, "w").write(repr(sorted(sys.modules))))
"""


class Size(NamedTuple):
    """Modules under docgen/: how many lines and files, the middle one's lines, and how many have fewer than 30."""

    lines: int
    files: int
    median: float
    short: int


def size(package: Path = ROOT / "docgen") -> Size:
    """The size of a package, from its files."""
    lines = [path.read_bytes().count(b"\n") for path in package.rglob("*.py")]
    return Size(sum(lines), len(lines), median(lines), sum(one < SHORT for one in lines))


def dependencies(pyproject: Path = ROOT / "pyproject.toml") -> int:
    """How many packages docgen asks for at run time."""
    project: dict[str, Any] = tomllib.loads(pyproject.read_text("utf-8"))
    return len(project["project"]["dependencies"])


def imported(*words: str) -> frozenset[str]:
    """The names of all modules that one command has imported when it ends, docgen's and others'.

    Errors: RuntimeError, with what the command said, when it does not end with 0.
    """
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder, "told")
        _docgen(words, _WATCHED.format(told=str(told)))
        return frozenset(ast.literal_eval(told.read_text("utf-8")))


def _docgen(words: tuple[str, ...], first: str = "") -> None:
    code = first + _CALL.format(words=list(words))
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    if done.returncode:
        raise RuntimeError(f"docgen {' '.join(words)} ended with {done.returncode}: {done.stderr or done.stdout}")


def touched(names: tuple[str, ...], root: Path = ROOT) -> list[str]:
    """The files under docgen/ and templates/ that speak of a verb by one of its names: what a new one like it touches.

    In a module a name counts as a field, a word in quotation marks, a class or an attribute that is not called; in a
    table or a template as a word. Translations do not count.
    """
    word = re.compile(rf"(?<![\w-])({'|'.join(names)})(?![\w-])")
    found = [path for path in (root / "docgen").rglob("*.py") if set(names) & _said(ast.parse(path.read_bytes()))]
    others = (path for folder in ("docgen", "templates") for path in (root / folder).rglob("*.*"))
    found += [one for one in others if one.suffix in TABLES and word.search(one.read_text("utf-8"))]
    return sorted(path.relative_to(root).as_posix() for path in found)


def _said(module: ast.Module) -> set[str]:
    called = {id(node.func) for node in ast.walk(module) if isinstance(node, ast.Call)}
    found: set[str] = set()
    for node in ast.walk(module):
        match node:
            case ast.Attribute(attr=name) if id(node) not in called:
                found.add(name)
            case ast.Constant(value=str(name)) | ast.Name(id=name) | ast.ClassDef(name=name) | ast.alias(name=name):
                found.add(name)
    return found


def run_by_print() -> int:
    """How many files under docgen/ are run by the printing of one job for one engine of the demo club."""
    with tempfile.TemporaryDirectory() as folder:
        for name in CLUB:
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
            copy(ROOT / name, Path(folder, name))
        names = imported("--club", folder, *PRINT)
    return sum(name == "docgen" or name.startswith("docgen.") for name in names)


def seconds(*words: str, runs: int = RUNS) -> float:
    """CPU seconds, user and system together, that one command takes: the middle one of some runs after a first.

    Errors: RuntimeError, with what the command said, when it does not end with 0.
    """
    taken = []
    for _ in range(runs + 1):
        before = os.times()
        _docgen(words)
        after = os.times()
        taken.append(after.children_user + after.children_system - before.children_user - before.children_system)
    return median(taken[1:])


def told(runs: int = RUNS) -> list[tuple[str, str]]:
    """The figures, each with its name."""
    house = size()
    return [
        ("lines under docgen/", f"{house.lines:,}"),
        ("files under docgen/", str(house.files)),
        ("lines of the median module", f"{house.median:g}"),
        (f"modules under {SHORT} lines", str(house.short)),
        ("files run by one print", str(run_by_print())),
        ("packages at run time", str(dependencies())),
        ("files touched by the new verb", str(len(touched(PAIR)))),
        ("CPU seconds of docgen --help", f"{seconds('--help', runs=runs):.2f}"),
    ]


if __name__ == "__main__":
    for name, figure in told():
        sys.stdout.write(f"{name:<30} {figure:>7}\n")
