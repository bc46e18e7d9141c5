"""docs/security.md names tests that exist, vectors that the corpus has, and its true size."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from tests.fuzz.found import FOUND
from tests.hostile.apart import MEMORY, SECONDS, WRITTEN
from tests.hostile.cases import GROUPS, VECTORS, cases

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "security.md").read_text("utf-8")


def test_every_test_that_the_page_names_exists() -> None:
    named = re.findall(r"`(tests/[\w/]+\.py)(?:::(\w+))?`", PAGE)
    assert len(named) > 20
    missing = []
    for path, function in named:
        source = (ROOT / path).read_text("utf-8") if (ROOT / path).is_file() else ""
        functions = {node.name for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef)}
        if not source or (function and function not in functions):
            missing.append(f"{path}::{function}")
    assert missing == []


def test_every_promise_names_what_tests_it() -> None:
    table = PAGE.partition("| promise | tested by |")[2].partition("\n\n")[0]
    rows = [row.split("|")[1:3] for row in table.splitlines()[2:]]
    assert len(rows) > 15
    assert [promise for promise, tests in rows if "corpus" not in tests and "`tests/" not in tests] == []


def test_every_vector_stands_behind_a_promise() -> None:
    tests = " ".join(row.rpartition("corpus:")[2] for row in PAGE.splitlines() if "| corpus: " in row)
    assert [vector for vector in VECTORS if not re.search(rf"(?<![\w-]){vector}(?![\w-])", tests)] == []


def test_the_page_counts_right() -> None:
    count = sum(len(cases(group)) for group in GROUPS)
    assert f"{count} cases over {len(VECTORS)} vectors" in PAGE
    assert f"{SECONDS} s of processor time for one case, {MEMORY >> 30} GiB of address space" in PAGE
    assert f"a file of {WRITTEN >> 20} MiB" in PAGE


def test_the_page_tells_what_fuzzing_found() -> None:
    assert len(FOUND) >= 2
    assert [what for what in FOUND if f"- {what}" not in PAGE] == []
