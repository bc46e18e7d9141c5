"""Each wrong file gives exactly the message that is written down for it, at its place, and never a traceback."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.club.read import read_club
from tests.club.wrong_files import CASES
from tests.smallclub import texts, write

EXPECTED = Path(__file__).parent / "wrong_files.txt"


def expected() -> dict[str, str]:
    """The messages written down, by case."""
    blocks = EXPECTED.read_text("utf-8").split("=== ")[1:]
    return {name: body.strip("\n") for name, _, body in (block.partition(" ===\n") for block in blocks)}


def said(folder: Path, case: str) -> str:
    """What reading the small club says with one mistake in it."""
    path, right, wrong = CASES[case]
    text = texts()[path]
    assert text.count(right) >= 1, f"{case}: the small club has no {right!r}"
    write(folder, {path: text.replace(right, wrong, 1)})
    return "\n\n".join(str(problem) for problem in read_club(folder).problems)


def test_the_small_club_is_right(tmp_path: Path) -> None:
    assert read_club(write(tmp_path)).problems == []


def test_every_case_is_written_down() -> None:
    assert len(CASES) >= 30
    assert list(expected()) == list(CASES)


@pytest.mark.parametrize("case", CASES)
def test_wrong_file(case: str, tmp_path: Path) -> None:
    assert said(tmp_path, case) == expected()[case]
