"""Which files of a club's folder are looked at, and their bytes."""

from __future__ import annotations

import os
from pathlib import Path

from docgen.club.problem import Problem
from docgen.club.yamlbytes import MAX_BYTES


def yaml_files(root: Path, sub: str) -> list[str]:
    """The YAML files directly in the folder `sub`, as paths below `root`, sorted; hidden ones are nobody's business."""
    try:
        with os.scandir(root / sub) as found:
            names = [f.name for f in found if f.name.endswith((".yaml", ".yml")) and f.name[0] != "." and f.is_file()]
    except (FileNotFoundError, NotADirectoryError):
        return []
    return [f"{sub}/{name}" for name in sorted(names)]


def subfolders(folder: Path) -> list[str]:
    """The names of the folders directly in `folder`, sorted, without hidden ones."""
    if not folder.is_dir():
        return []
    return sorted(p.name for p in folder.iterdir() if p.is_dir() and not p.name.startswith("."))


def read_bytes(root: Path, path: str) -> bytes | Problem:
    """What is in a file (no more than the reader takes), or why it cannot be read."""
    try:
        with open(f"{root}/{path}", "rb") as file:  # noqa: PTH123  ten thousands of them
            return file.read(MAX_BYTES + 1)
    except OSError as error:
        message = f"this file cannot be read: {error.strerror}"
        return Problem(path, 0, 0, "unreadable-file", message, "check that it is a file and that you may read it")
