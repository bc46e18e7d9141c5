"""Makes docs/gallery: each paper, every drawing, a whole job at a glance. .venv/bin/python -m tools.gallery"""

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
from tools.drawings import gallery

ROOT = Path(__file__).resolve().parents[1]
TARGET = ROOT / "docs" / "gallery"
WIDE, WALL, SMALL, COLOURS = 695, 1390, 240, 16
"""Pixels across: A4 at 84 dots an inch, a page for the wall, a page among all those of a job; and greys and colours."""
COMMANDS = (
    ["print", "023", "--job", "CLU"], ["reading", "CLU", "--engine", "023"], ["kit", "023", "--job", "PRE"],
    ["mat", "023", "--job", "CLU"], ["mat", "023", "--job", "CAR", "--box", "4x6"],
    ["labels", "parts", "023", "--job", "CLU", "--start", "5"],
    ["labels", "tag", "023", "--job", "CLU", "--after", "10", "--by", "B. Lind"],
    ["board"], ["binder", "023", "--job", "CLU", "--job", "CAR"], ["print", "--blank", "hazel-60j", "--job", "PLU"],
)  # fmt: skip
PAGES = {
    "leaf": ("023/023-CLU-leaf.pdf", (1, 2)),
    "reading": ("reading/CLU-023-reading.pdf", (1, 3)),
    "sign-off": ("023/023-CLU-sign-off.pdf", (1, 2)),
    "kit": ("kit-023-PRE.pdf", (1,)),
    "mat": ("023/023-CLU-mat.pdf", (1,)),
    "box": ("023/023-CAR-box.pdf", (1,)),
    "labels": ("023/023-labels-parts.pdf", (1,)),
    "tag": ("023/023-labels-tag.pdf", (1,)),
    "board": ("board.pdf", (1,)),
    "binder": ("023/023-binder.pdf", (1,)),
    "blank": ("blank/hazel-60j/hazel-60j-PLU-sign-off.pdf", (1,)),
}
"""Of each paper, its file and those of its pages that are kept."""


def main() -> None:
    """Print the samples, and keep small pictures of them."""
    TARGET.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as temporary:
        out = Path(temporary)
        for words in COMMANDS:
            more = ["--on", "2027-02-20", "--out", temporary]
            subprocess.run([str(ROOT / ".venv/bin/docgen"), "--club", str(ROOT), *words, *more], check=True)
        for name, (file, numbers) in PAGES.items():
            for number in numbers:
                _picture(out / file, number, f"{name}-{number}", WALL if name == "board" else WIDE)
        drawn = out / "drawings.pdf"
        drawn.write_bytes(_drawings())
        for number in range(1, len(_pages(drawn, out)) + 1):
            _picture(drawn, number, f"drawings-{number}", WIDE)
        job_at_a_glance([out / PAGES[name][0] for name in ("leaf", "sign-off")], TARGET / "clutch-now.png")


def job_at_a_glance(files: list[Path], picture: Path) -> None:
    """All pages of a job's sheets, small, ten beside each other."""
    with tempfile.TemporaryDirectory() as temporary:
        pages = [page for file in files for page in _pages(file, Path(temporary))]
        height = pages[0].height
        wide, high = min(len(pages), 10), -(-len(pages) // 10)
        sheet = Image.new("L", (wide * (SMALL + 8) + 8, high * (height + 8) + 8), 128)
        for index, page in enumerate(pages):
            sheet.paste(page, (8 + index % 10 * (SMALL + 8), 8 + index // 10 * (height + 8)))
    sheet.quantize(8).save(picture, optimize=True)


def _drawings() -> bytes:
    folder = read_club(ROOT)
    job = resolve(folder, folder.engines["023"], folder.procedures["clutch-service"], date(2027, 2, 20))
    outcome = press(order("drawings", gallery(), job, folder.club.value.club, forms=False))
    assert outcome.pressed is not None, outcome.faults
    return outcome.pressed.pdf


def _pages(pdf: Path, folder: Path) -> list[Image.Image]:
    """Every page, small and in grey."""
    stem = folder / f"glance-{pdf.stem}"
    size = ["-scale-to-x", str(SMALL), "-scale-to-y", "-1"]
    subprocess.run(["pdftoppm", "-png", "-gray", *size, str(pdf), str(stem)], check=True)
    return [Image.open(path).copy() for path in sorted(folder.glob(f"{stem.name}-*.png"))]


def _picture(pdf: Path, number: int, name: str, width: int) -> None:
    """A page in few colours, beside the others."""
    picture = TARGET / f"{name}.png"
    cut = ["-f", str(number), "-l", str(number), "-singlefile", "-scale-to-x", str(width), "-scale-to-y", "-1"]
    subprocess.run(["pdftoppm", "-png", *cut, str(pdf), str(picture.with_suffix(""))], check=True)
    Image.open(picture).convert("RGB").quantize(COLOURS).save(picture, optimize=True)


if __name__ == "__main__":
    main()
