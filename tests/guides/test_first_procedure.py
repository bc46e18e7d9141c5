"""docs/first-procedure.md, followed literally. After a change of words: python -m tests.guides.test_first_procedure"""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from docgen.cli.frame import docgen
from tests.guides.literal import FENCE, followed

PAGE = Path(__file__).resolve().parents[2] / "docs/first-procedure.md"
DAY = "2027-02-20"


def typed(words: list[str]) -> str:
    return CliRunner().invoke(docgen, words, prog_name="docgen", catch_exceptions=False).output


def test_the_page_is_followed_to_the_letter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    page = PAGE.read_text("utf-8")
    assert followed(page, tmp_path, typed, DAY) == page
    made = {path.name for path in (tmp_path / "marsh-lane/out/7").glob("*.pdf")}
    assert made == {"7-INT-leaf.pdf", "7-INT-sign-off.pdf"}


def test_there_is_something_to_follow() -> None:
    page = PAGE.read_text("utf-8")
    blocks = [block[1] for block in FENCE.finditer(page)]
    assert (blocks.count("console"), blocks.count("yaml")) == (8, 4)
    assert len(re.findall(r"^\$ docgen", page, re.MULTILINE)) == 9
    assert "unknown-key" in page
    assert "fastener-left-undone" in page


if __name__ == "__main__":
    import os

    with tempfile.TemporaryDirectory() as folder:
        page = PAGE.read_text("utf-8")
        os.chdir(folder)
        PAGE.write_text(followed(page, Path(folder), typed, DAY), "utf-8")
