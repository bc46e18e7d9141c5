"""Corner marks by which a photographed page is found and straightened: four squares with an identity each.

Each mark is 6 by 6 modules, a black border of one module round 4 by 4 bits (``data/fiducials.csv``).
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

from docgen.sheets.drawings.canvas import INK, PAPER, Canvas
from docgen.sheets.paper import Paper

SIZE, EDGE = 10.0, 7.0
"""Side of a mark, and its distance from the paper's edges, mm."""


@cache
def _bits() -> dict[str, tuple[str, ...]]:
    text = files("docgen.sheets").joinpath("data/fiducials.csv").read_text(encoding="utf-8")
    return {row["corner"]: tuple(row[f"row{n}"] for n in range(1, 5)) for row in csv.DictReader(text.splitlines())}


def fiducials(paper: Paper) -> str:
    """The page's background: its four corner marks and nothing else."""
    canvas = Canvas(paper.width, paper.height, "corner marks for the camera")
    module = SIZE / 6
    for corner, rows in _bits().items():
        x = EDGE if corner.endswith("left") else paper.width - EDGE - SIZE
        y = EDGE if corner.startswith("top") else paper.height - EDGE - SIZE
        canvas.rectangle(x, y, SIZE, SIZE, 0, INK)
        for r, row in enumerate(rows):
            for c, bit in enumerate(row):
                if bit == "1":
                    canvas.rectangle(x + (c + 1) * module, y + (r + 1) * module, module, module, 0, PAPER)
    return canvas.svg()
