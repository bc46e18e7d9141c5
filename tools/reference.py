"""Writes docs/reference from the docstrings of the public names:  python -m tools.reference

Nothing is imported: what is told stands in the files. A docstring says what a name gives, then, where there is such a
thing, its equation, what each argument is (`mu : 0.04 to 0.40`), `Errors:`, `Source:` and a worked example.
"""

from __future__ import annotations

import ast
import re
import textwrap
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGES = ROOT / "docs/reference"
TRADE = sorted(path for path in (ROOT / "docgen/trade").glob("*.py") if path.stem != "__init__")
HEAD = """\
# Reference

Written by `python -m tools.reference` from the docstrings; do not edit it, a test holds the two together. The examples
are run by the tests.

[docgen](docgen.md): the door for Python, `from docgen import Club`.

The trade's arithmetic, pure functions of figures with units. A value out of its range is a `TradeError`, never a clamp.
What was checked against a published figure, and how, stands in [reference-checks.md](../reference-checks.md).

| module | what |
|---|---|
"""
_ARGUMENT = re.compile(r"(?P<names>\w+(?:, \w+)*) *(?<= ): +(?=\S)")
_NEXT = re.compile(r"(?:; | {3,})(?=\w+(?:, \w+)* *(?<= ): +\S)|(?<=[.;)]) (?=(?:Errors|Sources?): )")
_FACT = re.compile(r"(Errors|Sources?): ")

Function = ast.FunctionDef | ast.AsyncFunctionDef


def pages() -> dict[str, str]:
    """Every page by its name."""
    trees = {path: _tree(path) for path in TRADE}
    rows = (f"| [{path.stem}]({path.stem}.md) | {_first(tree)} |" for path, tree in trees.items())
    told = {path.stem: _page(f"docgen.trade.{path.stem}", tree, tree.body) for path, tree in trees.items()}
    return {"README": HEAD + "\n".join(rows) + "\n", "docgen": _door(), **told}


def door() -> dict[Path, list[str]]:
    """What a script imports from `docgen`, by the file where it stands: what `docgen/__init__.py` has for the types."""
    return {
        ROOT / f"{node.module.replace('.', '/')}.py": [one.name for one in node.names]
        for node in ast.walk(_tree(ROOT / "docgen/__init__.py"))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("docgen.")
    }


def _door() -> str:
    chosen = [
        node
        for file, names in door().items()
        for node in _tree(file).body
        if isinstance(node, ast.ClassDef) and node.name in names
    ]
    return _page("docgen", _tree(ROOT / "docgen/__init__.py"), list(chosen))


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def _page(title: str, module: ast.Module, body: list[ast.stmt]) -> str:
    return "\n\n".join([f"# {title}", *_told(module), *_members(body, "##")]) + "\n"


def _members(body: list[ast.stmt], level: str, of: str = "") -> Iterator[str]:
    for node in body:
        name = getattr(node, "name", "_")
        if name.startswith("_"):
            continue
        yield f"{level} {of}{name}"
        if isinstance(node, ast.ClassDef):
            yield _code(_class(node))
            yield from _told(node)
            yield from _members(node.body, "###", f"{name}.")
        elif isinstance(node, Function):
            yield _code(_signature(node))
            yield from _told(node)


def _class(node: ast.ClassDef) -> str:
    """Its head and its fields, as they stand there."""
    bases = ", ".join(ast.unparse(base) for base in node.bases)
    fields = [one for one in node.body if isinstance(one, ast.AnnAssign | ast.Assign)]
    lines = [f"    {ast.unparse(one)}" for one in fields if not ast.unparse(one).startswith("_")]
    return "\n".join([f"class {node.name}{f'({bases})' if bases else ''}:", *(lines or ["    ..."])])


def _signature(node: Function) -> str:
    """As it is called: a property is read, a class method stands behind its class."""
    kinds = {ast.unparse(one) for one in node.decorator_list}
    if kinds & {"property", "cached_property"}:
        return f"{node.name}: {ast.unparse(node.returns or ast.Constant(None))}"
    arguments = re.sub(r"^(self|cls)(, |$)", "", ast.unparse(node.args))
    arguments = re.sub(r"(: [^=,]+)=", r"\1 = ", arguments)
    gives = f" -> {ast.unparse(node.returns)}" if node.returns else ""
    line = f"{node.name}({arguments}){gives}"
    if len(line) <= 100:
        return line
    inner = re.split(r", (?=\*?\w+(?::|,)|\*,)", arguments)
    return f"{node.name}(\n" + "".join(f"    {one},\n" for one in inner) + f"){gives}"


def _code(text: str, kind: str = "python") -> str:
    return f"```{kind}\n{text}\n```"


def _first(node: ast.Module) -> str:
    return (ast.get_docstring(node) or "").partition("\n\n")[0].replace("\n", " ")


def _told(node: ast.Module | ast.ClassDef | Function) -> Iterator[str]:
    """A docstring as Markdown, block by block."""
    for block in re.split(r"\n\s*\n", ast.get_docstring(node) or ""):
        lines = block.split("\n")
        if lines[0].startswith(">>>"):
            yield _code(block)
        elif lines[0].startswith(".. math::"):
            rest = [at for at, line in enumerate(lines) if at and not line.startswith(" ")] or [len(lines)]
            yield _code(textwrap.dedent("\n".join([lines[0][9:].strip(), *map(str.strip, lines[1 : rest[0]])])), "math")
            yield from _prose(lines[rest[0] :])
        else:
            yield from _prose(lines)


def _prose(lines: list[str]) -> Iterator[str]:
    """Sentences; and a list of what is told of one thing each: arguments and fields, errors, source."""
    items: list[str] = []
    for line in lines:
        for at, part in enumerate(_NEXT.split(line)):
            if not items or at or _ARGUMENT.match(part) or _FACT.match(part) or _ends(items[-1], part):
                items.append(part.strip())
            else:
                items[-1] += f" {part.strip()}"
    rows = ["", ""]
    for item in filter(None, map(_marked, items)):
        argument, fact = _ARGUMENT.match(item), _FACT.match(item)
        if argument:
            names = ", ".join(f"`{name}`" for name in argument["names"].split(", "))
            rows.append(f"- {names}: {item[argument.end() :]}")
        elif fact:
            rows.append(f"- **{fact[1]}:** {item[fact.end() :]}")
        else:
            rows += ["", item, ""]
    if text := re.sub(r"\n{3,}", "\n\n", "\n".join(rows)).strip():
        yield text


def _ends(item: str, line: str) -> bool:
    """Whether a list ends here: what goes on with an argument is set in."""
    return bool(_ARGUMENT.match(item)) and not line.startswith(" ")


def _marked(text: str) -> str:
    """Its marks as those of Markdown."""
    text = re.sub(r":math:`([^`]+)`", r"$\1$", text)
    return re.sub(r":\w+:`([^`]+)`", r"`\1`", text).replace("``", "`")


def main() -> None:
    """Write every page; one whose module is gone goes too."""
    PAGES.mkdir(exist_ok=True)
    fresh = pages()
    for path in PAGES.glob("*.md"):
        if path.stem not in fresh:
            path.unlink()
    for name, text in fresh.items():
        (PAGES / f"{name}.md").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
