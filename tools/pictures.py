"""Makes the pictures of the README from the demo club: .venv/bin/python -m tools.pictures"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
COMMANDS = (["print", "023", "--job", "CLU"], ["mat", "023", "--job", "CAR"], ["board"])
PAGES = {
    "checklist-1": ("023/023-CLU-checklist", 1),
    "checklist-2": ("023/023-CLU-checklist", 9),
    "sign-off-1": ("023/023-CLU-sign-off", 1),
    "sign-off-2": ("023/023-CLU-sign-off", 2),
    "mat": ("023/023-CAR-mat", 1),
    "board": ("board", 1),
}
WIDTH, WALL, COLOURS = "695", "1390", 32
"""Pixels across, as for A4 at 84 dots an inch; of a page for the wall, twice as many."""


def main() -> None:
    """Print some sheets of the demo, and put a few of their pages, in few greys and colours, into docs/pictures."""
    with tempfile.TemporaryDirectory() as folder:
        for words in COMMANDS:
            more = ["--on", "2027-02-20", "--out", folder]
            subprocess.run([str(ROOT / ".venv/bin/docgen"), "--club", str(ROOT), *words, *more], check=True)
        for name, (sheet, page) in PAGES.items():
            pdf, target = f"{folder}/{sheet}.pdf", ROOT / "docs/pictures" / name
            target.parent.mkdir(exist_ok=True)
            cut = ["-f", str(page), "-l", str(page), "-singlefile"]
            size = ["-scale-to-x", WALL if name == "board" else WIDTH, "-scale-to-y", "-1"]
            subprocess.run(["pdftoppm", "-png", *size, *cut, pdf, str(target)], check=True)
            picture = target.with_suffix(".png")
            Image.open(picture).convert("RGB").quantize(COLOURS).save(picture, optimize=True)


if __name__ == "__main__":
    main()
