"""Makes docs/gallery, one sample of each sheet and every drawing: .venv/bin/python -m tools.gallery"""

from __future__ import annotations

import subprocess
import tempfile
from datetime import date
from pathlib import Path

from PIL import Image

from docgen.club.read import read_club
from docgen.job.resolve import resolve
from docgen.press.orders import order
from docgen.press.workers import press
from docgen.sheets.gallery import gallery
from docgen.sheets.leaf import leaf
from docgen.sheets.page import Page
from docgen.sheets.signoff import signoff

ROOT = Path(__file__).resolve().parents[1]
DPI, COLOURS = "64", 16
PRINTED = {
    "kit": (["kit", "--job", "PRE"], "kit-PRE.pdf", 1),
    "mat": (["mat", "023", "--job", "CLU"], "023/023-CLU-mat.pdf", 1),
    "box": (["mat", "023", "--job", "CAR", "--box", "4x6"], "023/023-CAR-box.pdf", 1),
    "labels": (["labels", "parts", "023", "--job", "CLU", "--start", "5"], "023/023-labels-parts.pdf", 1),
    "tag": (["labels", "tag", "023", "--job", "CLU", "--after", "10", "--by", "B. Lind"], "023/023-labels-tag.pdf", 1),
    "board": (["board"], "board.pdf", 1),
    "binder": (["binder", "023", "--job", "CLU", "--job", "CAR"], "023/023-binder.pdf", 1),
    "blank": (["print", "--blank", "hazel-60j", "--job", "PLU"], "blank/hazel-60j/hazel-60j-PLU-sign-off.pdf", 1),
}
"""Pages that a command prints: what is typed, its file, and the page of it."""


def main() -> None:
    """Print the clutch job of engine 023 and the page of drawings, and keep small pictures of them."""
    folder = read_club(ROOT)
    assert folder.club is not None
    club = folder.club.value
    job = resolve(folder, folder.engines["023"], folder.procedures["clutch-service"], date(2027, 2, 20))
    wanted: dict[str, tuple[Page, bool, tuple[int, ...]]] = {
        "leaf": (leaf(job, club), False, (1, 10)),
        "sign-off": (signoff(job, club), True, (1,)),
        "drawings": (gallery(), False, tuple(range(1, 13))),
    }
    target = ROOT / "docs" / "gallery"
    target.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as temporary:
        for name, (page, forms, numbers) in wanted.items():
            outcome = press(order(name, page, job, club.club, forms=forms))
            assert outcome.pressed is not None, outcome.faults
            pdf = Path(temporary) / "sheet.pdf"
            pdf.write_bytes(outcome.pressed.pdf)
            for number in numbers:
                _picture(pdf, number, target / f"{name}-{number}")
        for name, (words, file, number) in PRINTED.items():
            more = ["--on", "2027-02-20", "--out", temporary]
            subprocess.run([str(ROOT / ".venv/bin/docgen"), "--club", str(ROOT), *words, *more], check=True)
            _picture(Path(temporary) / file, number, target / f"{name}-{number}")


def _picture(pdf: Path, number: int, picture: Path) -> None:
    """A page in few colours, beside the others."""
    cut = ["-f", str(number), "-l", str(number), "-singlefile"]
    subprocess.run(["pdftoppm", "-png", "-r", DPI, *cut, str(pdf), str(picture)], check=True)
    file = picture.with_suffix(".png")
    Image.open(file).convert("RGB").quantize(COLOURS).save(file, optimize=True)


if __name__ == "__main__":
    main()
