"""Makes the pictures of the README from the demo club: .venv/bin/python -m tools.pictures"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
PAGES = {
    "checklist-1": ("checklist", 1),
    "checklist-2": ("checklist", 9),
    "sign-off-1": ("sign-off", 1),
    "sign-off-2": ("sign-off", 2),
}
DPI, COLOURS = "84", 32


def main() -> None:
    """Print the clutch job of engine 023 and put four of its pages, in few greys and colours, into docs/pictures."""
    with tempfile.TemporaryDirectory() as folder:
        words = ["print", "023", "--job", "CLU", "--on", "2027-02-20", "--out", folder]
        subprocess.run([str(ROOT / ".venv/bin/docgen"), "--club", str(ROOT), *words], check=True)
        for name, (sheet, page) in PAGES.items():
            pdf, target = f"{folder}/023/023-CLU-{sheet}.pdf", ROOT / "docs/pictures" / name
            target.parent.mkdir(exist_ok=True)
            cut = ["-f", str(page), "-l", str(page), "-singlefile"]
            subprocess.run(["pdftoppm", "-png", "-r", DPI, *cut, pdf, str(target)], check=True)
            picture = target.with_suffix(".png")
            Image.open(picture).convert("RGB").quantize(COLOURS).save(picture, optimize=True)


if __name__ == "__main__":
    main()
