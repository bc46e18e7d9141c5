"""A small club made from scratch by the tests: an engine type that the demo does not have."""

from __future__ import annotations

from functools import cache
from pathlib import Path

FILES = Path(__file__).parent / "files"


@cache
def _texts() -> dict[str, str]:
    return {p.relative_to(FILES).as_posix(): p.read_text("utf-8") for p in sorted(FILES.rglob("*.yaml"))}


def texts() -> dict[str, str]:
    """Every file of the small club: path below the club's folder to text."""
    return dict(_texts())


def write(root: Path, changes: dict[str, str | None] | None = None) -> Path:
    """Write the small club into `root`, with some files changed (or left out: None)."""
    for path, text in (texts() | (changes or {})).items():
        if text is not None:
            (root / path).parent.mkdir(parents=True, exist_ok=True)
            (root / path).write_text(text, "utf-8")
    return root
