"""Nothing is held under a lock longer than its work: not while somebody is asked, not while a page is pressed."""

from __future__ import annotations

import ast
import subprocess
import sys
import time
from pathlib import Path

import pytest

from docgen.club.lock import alone
from docgen.club.read import read_club
from docgen.share.pack import pack
from tests.returns.conftest import GOOD, NUMBER, club_at
from tests.returns.papers import form_of
from tests.smallclub import texts, write

ROOT = Path(__file__).resolve().parents[2]
WAITS = {"click", "subprocess", "multiprocessing", "weasyprint", "docgen.press.render", "docgen.press.workers"}
"""What waits for somebody, or works for long."""


def test_what_takes_a_lock_asks_nobody_and_presses_nothing() -> None:
    takers = {}
    for path in sorted((ROOT / "docgen").rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        calls = {ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
        if "alone" in calls:
            imports = {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
            imports |= {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
            takers[path.relative_to(ROOT).as_posix()] = sorted(imports & WAITS)
    assert len(takers) >= 4
    assert {path: waits for path, waits in takers.items() if waits or path.startswith("docgen/cli/")} == {}


def _paper(root: Path) -> list[str]:
    paper = root.parent / "paper.pdf"
    paper.write_bytes(form_of(club_at(root).sheet, GOOD))
    return ["file", "--on", "2030-04-10", str(paper)]


def _typing(root: Path) -> list[str]:
    club_at(root)
    return ["enter", "--terminal", NUMBER]


def _parcel(root: Path) -> list[str]:
    theirs = write(root.parent / "theirs")
    parcel = root.parent / "a.parcel"
    parcel.write_bytes(pack(read_club(theirs), ["rotor-service"]).data)
    write(root, dict.fromkeys((path for path in texts() if path.startswith("procedures/")), None))
    return ["receive", "--on", "2030-04-10", str(parcel)]


@pytest.mark.parametrize(("words", "asks"), [(_paper, "[y/N]"), (_typing, "released by (name)"), (_parcel, "[y/N]")])
def test_while_somebody_is_asked_others_can_file(words: object, asks: str, tmp_path: Path) -> None:
    """A command that waits for an answer holds neither the engine nor the club."""
    assert callable(words)
    root = tmp_path / "club"
    command = [sys.executable, "-c", "from docgen.cli import main; main()", "--club", str(root), *words(root)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.STDOUT) as running:
        assert running.stdout is not None
        said = ""
        until = time.monotonic() + 60
        while asks not in said and time.monotonic() < until:
            part = running.stdout.read1(4096).decode()  # type: ignore[attr-defined]
            assert part, said
            said += part
        with alone(root, *(path for path in (root / "engines").iterdir()), wait=0.0):
            pass
        running.communicate(b"", timeout=60)
