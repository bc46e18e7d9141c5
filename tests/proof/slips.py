"""Slips of the pen in a club's files: one text exchanged for another, and the rules that then speak."""

from __future__ import annotations

from pathlib import Path

from docgen.club.problem import Problem
from docgen.club.read import read_club
from docgen.proof import proof_all
from tests.secondtrade import FILES


def after(root: Path, file: str, old: str, new: str, *more: tuple[str, str]) -> list[Problem]:
    """What reading and proofing say of the gardeners' club with `old` exchanged for `new` in one file.

    Errors: AssertionError where an old text stands not once in the file.
    """
    for path in FILES.rglob("*.yaml"):
        target = root / path.relative_to(FILES)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(path.read_text("utf-8"), "utf-8")
    target = root / file
    text = target.read_text("utf-8")
    for one, other in ((old, new), *more):
        assert text.count(one) == 1, f"{one!r} stands {text.count(one)} times in {file}"
        text = text.replace(one, other)
    target.write_text(text, "utf-8")
    folder = read_club(root)
    return [*folder.problems, *proof_all(folder)]


def names(problems: list[Problem]) -> list[str]:
    """The names of problems, in order."""
    return [problem.name for problem in problems]
