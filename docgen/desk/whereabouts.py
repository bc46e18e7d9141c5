"""Where in the club's files the words stand that a fault of the press quotes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from docgen.club.files import bounded

MOST = 4 << 20
"""Largest file that is looked through, bytes."""
PLACES = ("procedures", "models", "engines/{engine}", "club.yaml", "glossary.yaml")


def with_place(root: Path, fault: str, engine: str = "") -> str:
    """The fault, with a line that says where to change what it quotes, where one of the club's files holds that."""
    place = whereabouts(root, fault, engine)
    return f"{fault}\n  it stands in {place}" if place else fault


def whereabouts(root: Path, fault: str, engine: str = "") -> str:
    """The file and line of the first quoted words that one of the club's files holds; empty where none does.

    engine : the one whose record is looked through; without it, all
    Words that a fault has cut short, with ``...``, are sought by their beginning.
    """
    for quoted in re.findall(r'"([^"]+)"', fault):
        words = quoted.removesuffix("...").split()
        if not words:
            continue
        sought = re.compile(r"\s+".join(map(re.escape, words)))
        for path, text in _texts(root, engine):
            if found := sought.search(text):
                return f"{path.relative_to(root).as_posix()}, line {text.count(chr(10), 0, found.start()) + 1}"
    return ""


def _texts(root: Path, engine: str) -> Iterator[tuple[Path, str]]:
    for place in PLACES:
        path = root / place.format(engine=engine)
        files = sorted(path.rglob("*")) if path.is_dir() else [path]
        for file in files:
            if file.suffix in (".yaml", ".md") and "issued" not in file.parts:
                try:
                    yield file, bounded(file, MOST).decode()
                except (OSError, UnicodeDecodeError):
                    continue
