"""The pages round the sheets in another language: its words are longer, and nothing may run out of its box."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from tests.cli.record_club import say
from tests.cli.test_kit_and_mat import MODEL, sized
from tests.smallclub import write

PAGES = [
    (["board"], "board.pdf", "Fälligkeitstafel"),
    (["board", "--paper", "A4"], "board-A4.pdf", "Fälligkeitstafel"),
    (["kit", "--job", "ROT"], "kit-ROT.pdf", ""),
    (["mat", "7A", "--job", "ROT"], "7A/7A-ROT-mat.pdf", ""),
    (["mat", "7A", "--job", "ROT", "--paper", "A3"], "7A/7A-ROT-mat.pdf", "Umrisse"),
    (["mat", "7A", "--job", "ROT", "--box", "3x3"], "7A/7A-ROT-box.pdf", ""),
    (["labels", "parts", "7A", "--job", "ROT", "--blank", "1"], "7A/7A-labels-parts.pdf", ""),
    (["labels", "old", "7A", "--job", "ROT", "--blank", "1"], "7A/7A-labels-old.pdf", ""),
    (["labels", "spares", "--blank", "1"], "labels-spares.pdf", ""),
    (["labels", "fuel"], "labels-fuel.pdf", ""),
    (["labels", "tag", "7A"], "7A/7A-labels-tag.pdf", ""),
    (["labels", "tag", "7A", "--job", "ROT", "--after", "9"], "7A/7A-labels-tag.pdf", ""),
    (["binder", "7A", "--job", "ROT"], "7A/7A-binder.pdf", ""),
]


@pytest.mark.parametrize(("words", "path", "said"), PAGES, ids=[" ".join(words) for words, _, _ in PAGES])
def test_it_is_printed_and_says_that_it_is_german(tmp_path: Path, words: list[str], path: str, said: str) -> None:
    root = write(tmp_path, {MODEL: sized()})
    result = say(root, *words, "--language", "de", "--on", "2030-04-01")
    assert result.exit_code == 0, result.output
    reader = pypdf.PdfReader(io.BytesIO((root / "out" / path).read_bytes()))
    assert reader.trailer["/Root"]["/Lang"] == "de"  # type: ignore[index]
    assert said in " ".join(page.extract_text() for page in reader.pages)
