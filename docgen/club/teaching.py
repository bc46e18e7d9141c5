"""The page that teaches, beside a procedure: ``procedures/NAME.md``, in Markdown."""

from __future__ import annotations

from pathlib import Path

from docgen.club.files import read_bytes
from docgen.club.problem import Problem

MOST = 40_000
"""The most bytes of a page that teaches: about ten printed pages."""


def teaching(root: Path, procedure: str) -> str | Problem:
    """The text beside a procedure; empty where there is none, a Problem where it cannot be printed."""
    path = f"procedures/{procedure}.md"
    if not (root / path).exists():
        return ""
    data = read_bytes(root, path)
    if isinstance(data, Problem):
        return data
    if len(data) > MOST:
        message = f"this page has {len(data)} bytes; the most that is printed is {MOST}"
        return Problem(path, 0, 0, "page-too-long", message, "part it, or leave to the steps what stands in them")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        return Problem(path, line, 1, "not-utf-8", "this page is not in UTF-8", "save it as UTF-8 in the editor")
    return text.replace("\r\n", "\n")
