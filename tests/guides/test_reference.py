"""docs/reference is what the docstrings say, and these say what they must. If not:  python -m tools.reference"""

from __future__ import annotations

import ast
import re
from functools import cache

import docgen
from tools.reference import PAGES, TRADE, Function, door, pages

TREES = {path.stem: ast.parse(path.read_text("utf-8")) for path in TRADE if path.stem != "errors"}
FUNCTIONS = {
    (module, node.name): node for module, tree in TREES.items() for node in tree.body if isinstance(node, Function)
}
PUBLIC = {place: node for place, node in FUNCTIONS.items() if not place[1].startswith("_")}
UNITS = re.compile(r"_(mm|mm2|n|nm|kn|mpa|ml|percent|h)$")
"""How the name of a plain number says its unit."""


def test_the_pages_are_fresh() -> None:
    fresh = pages()
    assert len(fresh) > 20
    assert {path.stem: path.read_text("utf-8") for path in PAGES.glob("*.md")} == fresh, "python -m tools.reference"


def test_what_a_script_imports_is_there() -> None:
    assert sorted(name for names in door().values() for name in names) == sorted(docgen.__all__)
    for name in docgen.__all__:
        assert getattr(docgen, name).__name__ == name
        assert f"## {name}\n" in pages()["docgen"]


def test_links_lead_somewhere() -> None:
    linked = {PAGES / link for text in pages().values() for link in re.findall(r"\]\(([^)#]+)\)", text)}
    assert len(linked) > 20
    assert {path for path in linked if not path.resolve().is_file()} == set()


def test_everything_public_is_told_of() -> None:
    nodes = [
        (f"{module}.{node.name}", node)
        for module, tree in TREES.items()
        for one in tree.body
        for node in (one, *(one.body if isinstance(one, ast.ClassDef) else ()))
        if isinstance(node, Function | ast.ClassDef) and not node.name.startswith("_")
    ]
    assert len(nodes) > 110
    assert [name for name, node in nodes if not ast.get_docstring(node)] == []


def test_every_function_names_its_errors_and_its_source() -> None:
    assert len(PUBLIC) > 45
    told = {f"{module}.{name}": ast.get_docstring(node) or "" for (module, name), node in PUBLIC.items()}
    assert [name for name, text in told.items() if "Errors: " not in text] == []
    assert [name for name, text in told.items() if not re.search(r"\bSources?: ", text)] == []


def test_every_error_that_is_raised_is_named() -> None:
    raised = {place: raised_by(*place) for place in PUBLIC}
    assert len({name for names in raised.values() for name in names}) > 30
    wrong = {place: missing for place in PUBLIC if (missing := raised[place] - named_by(PUBLIC[place]))}
    assert wrong == {("checkchar", "is_valid"): {"bad-characters"}}  # asks only of characters that are right


def test_every_error_that_is_named_is_raised_somewhere() -> None:
    written = {one.value for tree in TREES.values() for one in ast.walk(tree) if isinstance(one, ast.Constant)}
    named = {name for node in PUBLIC.values() for name in named_by(node)}
    assert len(named) > 30
    assert named - written == set()


def test_every_plain_number_says_its_unit_or_what_it_may_be() -> None:
    plain = [
        (f"{module}.{node.name}", argument.arg, ast.get_docstring(node) or "")
        for (module, _), node in PUBLIC.items()
        for argument in (*node.args.args, *node.args.kwonlyargs)
        if ast.unparse(argument.annotation or ast.Constant(None)).partition(" ")[0] in ("float", "Decimal", "int")
    ]
    assert len(plain) > 20
    assert [
        (function, name) for function, name, text in plain
        if not UNITS.search(name) and not re.search(rf"\b{name}(?:, \w+)* *(?<= ): ", text)
    ] == []  # fmt: skip


def named_by(node: Function) -> set[str]:
    """The errors that a docstring names, and those of the function whose errors it says they are."""
    told = re.findall(r"Errors: (.*?)(?=Sources?: |\n\n|\Z)", ast.get_docstring(node) or "", re.DOTALL)
    found = {name for part in told for name in re.findall(r"`([a-z]+(?:-[a-z]+)+)`", part)}
    others = [name for part in told for name in re.findall(r"those of `(\w+)`", part)]
    return found.union(*(named_by(other) for (_, name), other in PUBLIC.items() if name in others))


@cache
def raised_by(module: str, name: str) -> frozenset[str]:
    """The names of the errors that a function raises, itself or by what it calls by name in the trade."""
    node = FUNCTIONS[module, name]
    found = set(_raised(node))
    caught = any(isinstance(one, ast.Try) for one in ast.walk(node))
    called_by_name = [one.func for one in ast.walk(node) if isinstance(one, ast.Call)]
    for called in {one.id for one in called_by_name if isinstance(one, ast.Name)}:
        home = module if (module, called) in FUNCTIONS else _imported(module).get(called, "")
        if (home, called) in FUNCTIONS and (home, called) != (module, name) and not caught:
            found |= raised_by(home, called)
    return frozenset(found)


def _imported(module: str) -> dict[str, str]:
    return {
        one.name: node.module.rpartition(".")[2]
        for node in TREES[module].body
        if isinstance(node, ast.ImportFrom) and node.module
        for one in node.names
    }


def _raised(node: ast.AST) -> set[str]:
    """The names in the errors that are made below a node; whoever checks a range raises one."""
    calls = [one for one in ast.walk(node) if isinstance(one, ast.Call) and isinstance(one.func, ast.Name)]
    names = {
        one.args[0].value
        for one in calls
        if one.func.id in ("TradeError", "QuantityError") and one.args and isinstance(one.args[0], ast.Constant)
    }
    return {*names, *({"out-of-range"} if any(one.func.id == "check_range" for one in calls) else ())}
