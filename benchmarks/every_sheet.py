"""Every sheet that the demo prints, judged page by page by tools that are not ours.

Usage: python benchmarks/every_sheet.py [FOLDER]

Prints what is due at the demo club into a folder of its own, or takes the bench leaves, readings and sign-off sheets of
FOLDER. Each file: qpdf, pdfua and outloud. Each page: its code, read by zxing-cpp at 100 dpi through noise; contrast of
every text in grey (WCAG 2: 4.5); something printed in its middle half. Each face of a leaf: smallest type for the
club's distance (NUREG-0700: 0.004 x distance), clip margin empty. The tests judge six of these sheets at each run; this
judges them all. The last line counts sheets, pages and faults.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
import pymupdf
import zxingcpp
from PIL import Image

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from docgen.club.read import read_club  # noqa: E402
from docgen.job.number import parse_number  # noqa: E402
from docgen.sheets.leaf import CLIP  # noqa: E402
from tests.paper.measuring import FIRST, heard, spoken, text_contrasts  # noqa: E402
from tests.paper.test_demo_measured import CAP_HEIGHT, DISTANCE  # noqa: E402
from tests.sheets.conftest import Seen  # noqa: E402

BIN = Path(sys.executable).parent
DAY = "2027-02-20"


def main(arguments: list[str]) -> int:
    """Judge all, print each fault, the thinnest pages, and the last line."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(arguments[0]) if arguments else _printed(Path(made))
        files = [file for kind in ("leaf", "reading", "sign-off") for file in sorted(folder.rglob(f"*-{kind}.pdf"))]
        with ProcessPoolExecutor(max_workers=os.cpu_count()) as workers:
            told = list(workers.map(judged, files))
    faults = [f"{file.name}: {fault}" for file, (_, found, _) in zip(files, told, strict=True) for fault in found]
    notes = Counter(rule for _, _, noted in told for rule in noted)
    print("\n".join(faults))
    print("outloud, warnings by rule: " + (", ".join(f"{rule} {n}" for rule, n in sorted(notes.items())) or "none"))
    print(f"sheets: {len(files)}; pages: {sum(pages for pages, _, _ in told)}; faults: {len(faults)}")
    return 1 if faults or not files else 0


def judged(file: Path) -> tuple[int, list[str], list[str]]:
    """Number of pages, what is wrong, and the rules of outloud's warnings."""
    pdf = file.read_bytes()
    with pymupdf.open(stream=pdf) as document:
        seen = Seen(pdf, len(document), ())
    warnings = []
    faults = [*_sound(file), *_codes(seen)]
    for found in heard(file):
        if found.severity == "error":
            faults.append(f"outloud {found.rule}, page {found.page}: {found.message}")
        else:
            warnings.append(found.rule)
    if FIRST not in spoken(file, 1):
        faults.append("whose figures come first is not spoken")
    faults += [f"page {page}: {text!r} at {ratio:.1f}" for page, text, ratio in text_contrasts(pdf) if ratio < 4.5]
    if "leaf" in file.name:
        faults += _at_the_bench(seen)
    return seen.pages, faults, warnings


def _sound(file: Path) -> Iterator[str]:
    if subprocess.run(["qpdf", "--check", str(file)], capture_output=True, check=False).returncode:
        yield "qpdf finds faults"
    said = subprocess.run([BIN / "pdfua", "check", "--format", "json", str(file)], capture_output=True, check=False)
    for finding in json.loads(said.stdout)["findings"]:
        yield f"pdfua {finding}"


def _codes(seen: Seen) -> Iterator[str]:
    noise = np.random.default_rng(7)
    for page in range(1, seen.pages + 1):
        pixels = seen.pixels(page, 100).astype(float)
        dirty = np.clip(pixels + noise.normal(0, 20, pixels.shape), 0, 255).astype(np.uint8)
        read = sorted({parse_number(code.text).page or 0 for code in zxingcpp.read_barcodes(Image.fromarray(dirty))})
        if read != [page]:
            yield f"page {page}: its codes say {read}"
        if np.all(pixels[pixels.shape[0] // 4 : pixels.shape[0] * 3 // 4] == 255):
            yield f"page {page}: nothing on its middle half"


def _at_the_bench(seen: Seen) -> Iterator[str]:
    for page in range(1, seen.pages + 1):
        if min(word.size for word in seen.words(page)) * CAP_HEIGHT < 0.004 * DISTANCE - 0.02:
            yield f"page {page}: type too small"
        if not np.all(seen.pixels(page, 60)[: int(CLIP / 25.4 * 60) - 1] == 255):
            yield f"page {page}: clip margin"


def _printed(folder: Path) -> Path:
    """The due sheets of a copy of the demo club, for a print is kept in the engine's record."""
    club = folder / "club"
    shutil.copytree(ROOT, club, ignore=shutil.ignore_patterns(".*", "out", "tests", "benchmarks"))
    for words in (["print", "--due"], ["reading", *sorted(read_club(club).procedures)]):
        command = [BIN / "docgen", "--club", club, *words, "--on", DAY, "--out", folder / "out"]
        subprocess.run(command, check=True, stdout=sys.stderr)
    return folder / "out"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
