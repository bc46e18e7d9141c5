"""Every input has a size up to which it is read: no file is read without one, and docs/security.md states them all."""

from __future__ import annotations

import ast
import re
from importlib import import_module
from pathlib import Path

from docgen.club.files import bounded

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "security.md").read_text("utf-8")
READERS = (
    *("docgen.club.yamlbytes", "docgen.club.yamltext", "docgen.club.yamlevents", "docgen.club.yamlscalar"),
    *("docgen.club.yamlsyntax", "docgen.club.svg", "docgen.share.container", "docgen.share.parcel"),
    *("docgen.share.manifest", "docgen.returns.form", "docgen.returns.sandbox", "docgen.returns.table"),
    *("docgen.returns.allowlist", "docgen.press.page", "docgen.press.description", "docgen.club.placement"),
    *("docgen.desk.opening", "docgen.press.shelf", "docgen.press.journal", "docgen.cli._stamps"),
    *("docgen.camera.pictures", "docgen.camera.codes", "docgen.desk.server"),
)
LIMIT = re.compile(r"(MAX_[A-Z]+|MOST|[A-Z]+_LIMIT|SECONDS|MEMORY)")
ROW = re.compile(r"^\| [^|]+ \| ([0-9]+(?: [0-9]{3})*)(?: [^|]*)? \| `(docgen[\w.]+)\.([A-Z_]+)` \|$", re.MULTILINE)
OWN = {
    "docgen/club/cache.py: module.read_bytes()": "the reader's own source",
    "docgen/club/schema/published.py: table.read_bytes()": "a table of the program",
    "docgen/press/description.py: file.get_file().read_bytes()": "in a process of its own, held to MEMORY and SECONDS",
    "docgen/press/journal.py: file.read_bytes()": "the press's own source",
    "docgen/press/page.py: _HERE.joinpath(name).read_text(encoding='utf-8')": "a style sheet of the program",
    "docgen/returns/form.py: stream.read_bytes()": "in a process of its own, held to MEMORY and SECONDS",
}
"""What is read whole, and why that may be: none of it is a stranger's file."""


def unbounded(path: Path) -> list[str]:
    """The calls in a module that read a file whole, but for tables and fonts that lie in an installed package."""
    found = []
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
            continue
        whole = ast.unparse(node)
        reads = node.func.attr in ("read_text", "read_bytes") or (node.func.attr == "read" and not node.args)
        ours = re.match(r"\(?(importlib\.resources\.)?files\(|session\.|face\.", whole)
        if reads and not ours:
            found.append(f"{path.relative_to(ROOT).as_posix()}: {whole}")
    return found


def test_no_file_is_read_without_a_limit() -> None:
    modules = sorted((ROOT / "docgen").rglob("*.py"))
    assert len(modules) > 200
    found = {line for path in modules for line in unbounded(path)}
    assert sorted(found - OWN.keys()) == [], "read it with docgen.club.files.bounded"


def test_a_file_larger_than_its_limit_is_not_read(tmp_path: Path) -> None:
    place = tmp_path / "a"
    place.write_bytes(bytes(11))
    assert bounded(place, 11) == bytes(11)
    try:
        bounded(place, 10)
    except OSError as error:
        said = error.strerror
    assert said == "it is larger than the 10 bytes that are read"


def test_the_page_states_every_limit_as_it_is() -> None:
    stated = {(module, name): float(figure.replace(" ", "")) for figure, module, name in ROW.findall(PAGE)}
    real = {
        (module, name): float(getattr(import_module(module), name))
        for module in READERS
        for name in vars(import_module(module))
        if LIMIT.fullmatch(name) and _defined(module, name)
    }
    assert len(real) > 25
    assert stated == real


def _defined(module: str, name: str) -> bool:
    """Whether a module defines the name itself, and does not only import it."""
    source = Path(str(import_module(module).__file__)).read_text("utf-8")
    return re.search(rf"^(\w+, )*{name}\b.* = ", source, re.MULTILINE) is not None
