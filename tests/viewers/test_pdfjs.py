"""Sign-off sheets in pdf.js, the viewer of a browser: what it sees, fills, saves and shows.

pdf.js comes from its registry, pinned with its digest in package-lock.json; without node or npm it is skipped.
What it shows is looked at with plain letters: outside a browser it has no other type to fall back on.
"""

from __future__ import annotations

import io
import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from PIL import Image

from docgen.club.folder import Folder
from docgen.job.job import Job
from docgen.press.fields import FieldBox, boxes
from docgen.returns.form import read_form
from tests.demo.conftest import Printed, demo, job, printed
from tests.demo.test_returns import answers, check_event

__all__ = ["demo", "job", "printed"]
HERE = Path(__file__).parent
SHEETS = [("023", "clutch-service"), ("038", "spark-plug-renewal")]
DPI = 100

Shown = tuple[list[dict[str, Any]], bytes, list[Any]]
PdfJs = Callable[[bytes, dict[str, str]], Shown]


@pytest.fixture(scope="session")
def pdfjs(tmp_path_factory: pytest.TempPathFactory) -> PdfJs:
    """Fill a sheet in pdf.js: the fields that it sees, the file that it saves, and its pages in grey."""
    if not shutil.which("node") or not shutil.which("npm"):
        pytest.skip("there is no node here, so pdf.js cannot be asked")
    folder = tmp_path_factory.mktemp("pdfjs")
    for name in ("package.json", "package-lock.json", "pdfjs.mjs"):
        shutil.copy(HERE / name, folder)
    got = subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=folder, capture_output=True, text=True)
    if got.returncode:
        pytest.skip("pdf.js cannot be had from its registry here")

    def filled(pdf: bytes, written: dict[str, str]) -> Shown:
        (folder / "in.pdf").write_bytes(pdf)
        (folder / "answers.json").write_text(json.dumps(written), "utf-8")
        pictures = Path(tmp_path_factory.mktemp("pages"))
        command = ["node", "pdfjs.mjs", "in.pdf", "answers.json", "out.pdf", str(pictures)]
        said = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=True).stdout
        paths = sorted(pictures.iterdir(), key=lambda path: int(path.stem))
        pages = [np.asarray(Image.open(path).convert("L"), float) for path in paths]
        return json.loads(said), (folder / "out.pdf").read_bytes(), pages

    return filled


@pytest.mark.parametrize(("engine", "procedure"), SHEETS)
def test_filled_in_a_browser_and_read_back_equal(
    demo: Folder, printed: Printed, job: Callable[[str, str], Job], pdfjs: PdfJs, engine: str, procedure: str
) -> None:
    one, pdf = job(engine, procedure), printed(engine, procedure, "sign-off")
    found = boxes(pdf)
    assert len(found) >= 30
    written = answers(one, found)
    seen, saved, _ = pdfjs(pdf, written)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        titles = {str(field.T): str(field.get("/TU", "")) for field in document.Root.AcroForm.Fields}
    assert [(f["page"], f["name"], f["text"]) for f in seen] == [(b.page, b.name, titles[b.name]) for b in found]
    assert np.allclose([f["rect"] for f in seen], [rect(b) for b in found], atol=0.01)
    form = read_form(saved)
    assert {name: text.replace("\r\n", "\n") for name, text in form.fields.items()} == written
    assert form.unclear == ()
    check_event(demo, engine, one, written)
    plain = {name: text.encode("ascii", "ignore").decode() for name, text in written.items()}
    pages, empty = pdfjs(pdf, plain)[2], pdfjs(pdf, {})[2]
    dumb = [b.name for b in found if plain[b.name] and ink(pages, b) < ink(empty, b) + 1]
    assert dumb == [], "filled, and not to be seen"
    quiet = [b.name for b in found if not plain[b.name] and abs(ink(pages, b) - ink(empty, b)) > 1]
    assert quiet == [], "left empty, and something is to be seen"


def rect(box: FieldBox) -> tuple[float, float, float, float]:
    """A field's outline in points from the lower left corner of its A4 page."""
    left, top, width, height = (side * 72 / 25.4 for side in box.mm)
    foot = 297 * 72 / 25.4 - top - height
    return left, foot, left + width, foot + height


def ink(pages: list[Any], box: FieldBox) -> float:
    """How dark a field is, in steps of grey below white on the mean; its border is left out."""
    page = pages[box.page - 1]
    x0, y0, x1, y1 = (round(v * DPI / 72) for v in rect(box))
    inside = page[page.shape[0] - y1 + 2 : page.shape[0] - y0 - 2, x0 + 2 : x1 - 2]
    return float(255 - inside.mean())
