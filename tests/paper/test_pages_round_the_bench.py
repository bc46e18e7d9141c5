"""The pages round the sheets, judged by tools that are not ours: qpdf, pdfua, poppler, MuPDF."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pymupdf
import pytest

from tests.cli.record_club import say
from tests.cli.test_kit_and_mat import MODEL, STOCK, sized
from tests.smallclub import texts, write

BIN = Path(sys.executable).parent
PAGES = {
    "kit": (["kit", "--job", "ROT"], "kit-ROT.pdf"),
    "mat": (["mat", "7A", "--job", "ROT"], "7A/7A-ROT-mat.pdf"),
    "box": (["mat", "7A", "--job", "ROT", "--box", "3x3"], "7A/7A-ROT-box.pdf"),
    "labels": (["labels", "parts", "7A", "--job", "ROT"], "7A/7A-labels-parts.pdf"),
    "tag": (["labels", "tag", "7A", "--job", "ROT", "--after", "9"], "7A/7A-labels-tag.pdf"),
    "board": (["board"], "board.pdf"),
    "binder": (["binder", "7A", "--job", "ROT"], "7A/7A-binder.pdf"),
    "blank": (["print", "--blank", "willow-80", "--job", "ROT"], "blank/willow-80/willow-80-ROT-sign-off.pdf"),
}


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small club with each of them printed."""
    club = texts()["club.yaml"].replace("paper: A4\n", "paper: A4\ncurrency: EUR\n")
    made = write(tmp_path_factory.mktemp("club"), {MODEL: sized(), "club.yaml": club, "stock.yaml": STOCK})
    for words, _ in PAGES.values():
        result = say(made, *words, "--on", "2030-04-01")
        assert result.exit_code == 0, result.output
    return made


@pytest.mark.parametrize("name", PAGES)
def test_others_find_no_fault(root: Path, name: str) -> None:
    file = root / "out" / PAGES[name][1]
    checked = subprocess.run(["qpdf", "--check", file], capture_output=True, text=True, check=False)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    command = [BIN / "pdfua", "check", "--format", "json", file]
    judged = subprocess.run(command, capture_output=True, text=True, check=False)
    assert '"errors": 0' in judged.stdout, judged.stdout
    fonts = subprocess.run(["pdffonts", file], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    assert fonts
    assert all(line.split()[-5:-2] == ["yes", "yes", "yes"] for line in fonts), fonts


@pytest.mark.parametrize("name", [name for name in PAGES if name not in ("binder", "blank")])
def test_they_are_black_and_grey_alone(root: Path, name: str) -> None:
    drawn = 0
    with pymupdf.open(root / "out" / PAGES[name][1]) as document:
        for page in document:
            pixels = page.get_pixmap(dpi=40)
            samples = memoryview(pixels.samples)
            red, green, blue = samples[0::3].tobytes(), samples[1::3].tobytes(), samples[2::3].tobytes()
            assert red == green == blue, f"page {page.number + 1} has a colour in it"
            drawn += min(red) < 60
    assert drawn
