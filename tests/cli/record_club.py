"""The small club with a numbered rotor on each engine, and the commands that write its record."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from docgen.cli.frame import docgen
from docgen.desk import moves, notes, runs
from tests.smallclub import texts, write

TODAY = date(2030, 6, 10)


def numbered(root: Path) -> Path:
    """The small club; rotor R-1 on engine 7A, which came with 4 h, rotor R-2 on engine 8B, of which nobody knows."""
    changes: dict[str, str | None] = {}
    for engine, number in (("7A", "R-1"), ("8B", "R-2")):
        path = f"engines/{engine}/engine.yaml"
        changes[path] = f"{texts()[path]}components: {{rotor: {number}}}\n"
    return write(root, changes)


def say(root: Path, *words: str, typed: str = "") -> Result:
    """Type a command in the club; `typed` answers its questions."""
    return CliRunner().invoke(
        docgen, ["--club", str(root), *words], prog_name="docgen", input=typed, catch_exceptions=False
    )


def on_the_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the clock say TODAY wherever the commands look at it."""
    for module in (moves, notes, runs):
        monkeypatch.setattr(module, "today", lambda: TODAY)


def log_of(root: Path, engine: str) -> list[str]:
    """The names of an engine's events."""
    folder = root / "engines" / engine / "log"
    return sorted(path.name for path in folder.iterdir()) if folder.is_dir() else []
