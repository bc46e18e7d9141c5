"""The trade's own house rules: worked examples hold, tables are sourced, nothing above is imported."""

from __future__ import annotations

import ast
import doctest
import importlib
import pkgutil
from importlib.resources import files
from pathlib import Path

import pytest

import docgen.trade
from docgen.trade import tables
from docgen.trade.errors import TradeError, check_range
from docgen.trade.tables import read_table

MODULES = sorted(f"docgen.trade.{each.name}" for each in pkgutil.iter_modules(docgen.trade.__path__))
TABLES = sorted(path.name.removesuffix(".csv") for path in files(tables).iterdir() if path.name.endswith(".csv"))


def test_there_is_something_to_test() -> None:
    assert len(MODULES) >= 18
    assert len(TABLES) >= 10


@pytest.mark.parametrize("name", MODULES)
def test_worked_examples_hold(name: str) -> None:
    found = doctest.testmod(importlib.import_module(name))
    assert found.failed == 0


def test_nearly_every_module_has_a_worked_example() -> None:
    bare = [name for name in MODULES if not doctest.DocTestFinder().find(importlib.import_module(name))[0].docstring]
    counts = {
        name: sum(len(each.examples) for each in doctest.DocTestFinder().find(importlib.import_module(name)))
        for name in MODULES
    }
    assert bare == []
    assert sorted(name for name, count in counts.items() if count == 0) == ["docgen.trade.tables"]


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_its_source_and_no_row_stands_twice(name: str) -> None:
    rows = read_table(name)
    keys = [tuple(value for column, value in row.items() if column != "source") for row in rows]
    assert len(keys) == len(set(keys))
    assert all(len(row["source"]) >= 5 for row in rows)


def test_a_table_without_sources_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for text, message in [
        ("a,source\n1,\n", "table bad, line 2: wrong number of columns, or no source"),
        ("a,source\n1,x,y\n", "table bad, line 2: wrong number of columns, or no source"),
        ("a,source\n1\n", "table bad, line 2: wrong number of columns, or no source"),
        ("a,source\n", "table bad is empty"),
    ]:
        (tmp_path / "bad.csv").write_text(text, encoding="utf-8")
        monkeypatch.setattr(tables, "__path__", [str(tmp_path)])
        read_table.cache_clear()
        with pytest.raises(ValueError, match=message):
            read_table("bad")
    read_table.cache_clear()


def test_trade_imports_nothing_above_it_and_needs_no_clock_or_environment() -> None:
    allowed = {"docgen"} | set(
        "__future__ ast collections csv dataclasses datetime decimal difflib enum fractions functools importlib "
        "itertools math re typing".split()
    )
    for name in MODULES:
        path = importlib.import_module(name).__file__
        assert path
        for node in ast.walk(ast.parse(Path(path).read_text(encoding="utf-8"))):
            modules = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and node.module:
                modules = [node.module]
            for module in modules:
                assert module.split(".")[0] in allowed, f"{name} imports {module}"
                assert not module.startswith("docgen.") or module.startswith("docgen.trade"), f"{name}: {module}"


def test_out_of_range_is_said_with_its_range() -> None:
    with pytest.raises(TradeError) as caught:
        check_range("bore", 12, 20, 150, "mm")
    assert (caught.value.name, caught.value.message) == (
        "out-of-range",
        "bore is 12 mm; it must lie between 20 and 150 mm",
    )
    assert str(caught.value) == "out-of-range: bore is 12 mm; it must lie between 20 and 150 mm"
    for nothing in (float("nan"), float("inf"), float("-inf")):
        with pytest.raises(TradeError):
            check_range("bore", nothing, 20, 150, "mm")
