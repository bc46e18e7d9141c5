"""Printing for an engine type that the demo does not have: from a folder made by the test to the PDF read back."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
import zxingcpp
from click.testing import CliRunner, Result
from PIL import Image

from docgen.cli.frame import docgen
from docgen.job.number import parse_number
from tests.smallclub import texts, write

MM = 72 / 25.4


def say(root: Path, *words: str) -> Result:
    return CliRunner().invoke(docgen, ["--club", str(root), *words], prog_name="docgen", catch_exceptions=False)


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small club with both engines printed, and the reading for one."""
    root = write(tmp_path_factory.mktemp("club"))
    result = say(root, "print", "--due", "--on", "2030-04-01")
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    read = say(root, "reading", "ROT", "--engine", "7A", "--on", "2030-04-01")
    assert read.stdout == f"Reading of ROT for 7A, 1 page: {root}/out/reading/ROT-7A-reading.pdf\n"
    (root / "said.txt").write_text(result.stdout, "utf-8")
    return root


def test_a_terminal_is_shown_how_far_it_is(club: Path, tmp_path: Path) -> None:
    """Anything else is not (the fixture looks): a script's log holds no bar."""
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    words = ["--club", str(club), "print", "7A", "--job", "ROT", "--on", "2030-04-01", "--out", str(tmp_path)]
    call = f"import sys; from docgen.cli import main; sys.argv[1:] = {words!r}; main()"
    subprocess.run([sys.executable, "-c", call], stdout=subprocess.DEVNULL, stderr=theirs, check=True)
    os.close(theirs)
    seen = b""
    with contextlib.suppress(OSError):  # how the end of a terminal looks on Linux
        while part := os.read(ours, 4096):
            seen += part
    os.close(ours)
    assert re.findall(r"printing +\[[#-]+\] +(\d/\d)", seen.decode())[-1] == "2/2"


def read(root: Path, sheet: str) -> pypdf.PdfReader:
    place = "out/reading/ROT-7A-reading.pdf" if sheet == "reading" else f"out/7A/7A-ROT-{sheet}.pdf"
    return pypdf.PdfReader(io.BytesIO((root / place).read_bytes()))


def words_of(root: Path, sheet: str) -> str:
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in read(root, sheet).pages))


def test_summary_says_what_for_whom_and_what_to_open_first(club: Path) -> None:
    said = re.sub(r" +\d+ pages?", " N pages", (club / "said.txt").read_text("utf-8")).replace(f"{club}/", "")
    assert (
        said
        == """\
Engine 7A, Willow 80, Ágnes Őry
  Rotor - clean and regrease (due: no record that it was ever done; before First (2030-05-05))
    leaf N pages  out/7A/7A-ROT-leaf.pdf
    sign-off N pages  out/7A/7A-ROT-sign-off.pdf

Engine 8B, Willow 80, Bo Lind
  Rotor - clean and regrease (due: no record that it was ever done; before First (2030-05-05))
    leaf N pages  out/8B/8B-ROT-leaf.pdf
    sign-off N pages  out/8B/8B-ROT-sign-off.pdf

4 sheets on N pages for 2 engines, as of 2030-04-01.
Open first: out/7A/7A-ROT-leaf.pdf
"""
    )


@pytest.mark.parametrize("sheet", ["leaf", "sign-off"])
def test_pages_are_a4(club: Path, sheet: str) -> None:
    for page in read(club, sheet).pages:
        assert float(page.mediabox.width) / MM == pytest.approx(210, abs=0.01)
        assert float(page.mediabox.height) / MM == pytest.approx(297, abs=0.01)


HELD = {
    "leaf": ("Willow 80", "W80-0007", "S-100", "34 N·m", "10 mm", "Rotor stop", "0.20 to 0.40 mm", "W-12",
             "chamfered face towards the crankcase", "WARNING Cleaning fluid vapour catches fire."),
    "reading": ("Willow 80", "W80-0007", "S-100", "34 N·m ± 10 %", "22.6 to 27.5 lbf·ft", "10 mm socket", "Rotor stop",
                "0.20 to 0.45 mm", "0.20 to 0.40 mm", "W-12", "chamfered face", "the crankcase", "Burns."),
    "sign-off": ("Willow 80", "W80-0007", "S-100", "34 N·m ± 10 %", "0.20 to 0.40 mm", "W-12", "4.0 h", "Ágnes Őry"),
}  # fmt: skip


@pytest.mark.parametrize("sheet", HELD)
def test_each_paper_holds_this_engine_s_values(club: Path, sheet: str) -> None:
    text = words_of(club, sheet)
    for wanted in HELD[sheet]:
        assert wanted in text, wanted


@pytest.mark.parametrize("sheet", ["leaf", "reading"])
def test_what_changes_at_every_filing_stands_on_the_sign_off_sheet_alone(club: Path, sheet: str) -> None:
    text = words_of(club, sheet)
    for other in ("4.0 h", "Ágnes Őry", "1 April 2030"):
        assert other in words_of(club, "sign-off")
        assert other not in text, other


@pytest.mark.parametrize("sheet", ["leaf", "reading"])
def test_steps_stand_in_order_and_each_once(club: Path, sheet: str) -> None:
    text = words_of(club, sheet)
    steps = [step.replace("{rotor-gap}", "rotor gap") for step in
             re.findall(r"- do: (.+)", texts()["procedures/rotor-service.yaml"])]  # fmt: skip
    places = [text.index(step) for step in steps]
    assert len(places) == 18
    assert places == sorted(places)
    assert [text.count(step) for step in steps] == [1] * 18


def test_sign_off_has_a_field_for_each_thing_signed_for(club: Path) -> None:
    fields = read(club, "sign-off").get_fields() or {}
    assert len(fields) > 30
    for key in ("tighten-rotor-nut_wrench", "measure-rotor-gap", "looked-all", "looked-except", "seal-off-side-plate",
                "seal-on-side-plate", "gap-seen_second", "gap-seen_own", "renew-plate-gasket_renewed",
                "closing-rotor-free", "after-run-no-noise"):  # fmt: skip
        assert key in fields, f"{key} is not among {sorted(fields)}"


@pytest.mark.parametrize("sheet", ["leaf", "sign-off"])
def test_every_page_s_code_reads_back_from_the_paper(club: Path, tmp_path: Path, sheet: str) -> None:
    pdf = club / f"out/7A/7A-ROT-{sheet}.pdf"
    subprocess.run(["pdftoppm", "-r", "100", "-gray", "-png", str(pdf), str(tmp_path / "page")], check=True)
    pages = sorted(tmp_path.glob("page*.png"))
    assert len(pages) == len(read(club, sheet).pages)
    for at, path in enumerate(pages, 1):
        codes = {code.text for code in zxingcpp.read_barcodes(Image.open(path))}
        assert len(codes) == 1, f"page {at}: {codes}"
        number = parse_number(codes.pop().split()[0])
        assert (number.engine, number.code, number.revision, number.print, number.page) == ("7A", "ROT", 3, 1, at)
        assert number.text in re.sub(r"\s+", " ", read(club, sheet).pages[at - 1].extract_text())


def test_same_day_gives_the_same_bytes_and_the_same_number(club: Path, tmp_path: Path) -> None:
    again = json.loads(say(club, "print", "7A", "--due", "--on", "2030-04-01", "--out", str(tmp_path), "--json").stdout)
    assert [(row["sheet"], row["number"][:14]) for row in again] == [
        ("leaf", "7A-ROT-03-001-"),
        ("sign-off", "7A-ROT-03-001-"),
    ]
    for name in ("7A-ROT-leaf.pdf", "7A-ROT-sign-off.pdf"):
        assert (tmp_path / "7A" / name).read_bytes() == (club / "out/7A" / name).read_bytes()


def test_letter_paper(tmp_path: Path) -> None:
    root = write(tmp_path, {"club.yaml": texts()["club.yaml"].replace("paper: A4", "paper: Letter")})
    assert say(root, "print", "7A", "--job", "ROT", "--on", "2030-04-01").exit_code == 0
    for sheet in ("leaf", "sign-off"):
        for page in read(root, sheet).pages:
            assert float(page.mediabox.width) / MM == pytest.approx(215.9, abs=0.01)
            assert float(page.mediabox.height) / MM == pytest.approx(279.4, abs=0.01)


def test_a_name_without_a_glyph_stops_its_sheet_with_a_plain_word(tmp_path: Path) -> None:
    engine = texts()["engines/7A/engine.yaml"].replace("Ágnes Őry", "Agnes \U0001f3c1")
    root = write(tmp_path, {"engines/7A/engine.yaml": engine})
    result = say(root, "print", "7A", "--due", "--on", "2030-04-01")
    assert result.exit_code == 1
    assert 'no typeface here has "\U0001f3c1" (U+1F3C1): change it in the file that says it\n' in result.stderr
    assert result.stderr.endswith("\n  it stands in engines/7A/engine.yaml, line 4\n")
    assert not (root / "out/7A/7A-ROT-sign-off.pdf").exists()


FAULTY = "      - do: Fit a new gasket.\n        renews: [plate-gasket]\n        takes: 1 min\n"


def test_a_job_with_proof_faults_is_not_printed(tmp_path: Path) -> None:
    text = texts()["procedures/rotor-service.yaml"]
    assert FAULTY in text
    root = write(tmp_path, {"procedures/rotor-service.yaml": text.replace(FAULTY, "")})
    result = say(root, "print", "7A", "--due", "--on", "2030-04-01")
    assert result.exit_code == 1
    assert "procedures/rotor-service.yaml" in result.stderr
    assert result.stderr.endswith(
        "Nothing was printed. Mend the faults, or print with --unproofed and have the sheet say so.\n"
    )
    assert not (root / "out").exists()
    assert not (root / "engines/7A/issued").exists()


def test_a_job_printed_unproofed_says_so_on_every_page(tmp_path: Path) -> None:
    text = texts()["procedures/rotor-service.yaml"].replace(FAULTY, "")
    root = write(tmp_path, {"procedures/rotor-service.yaml": text})
    assert say(root, "print", "7A", "--due", "--on", "2030-04-01", "--unproofed").exit_code == 0
    for sheet in ("leaf", "sign-off"):
        for page in read(root, sheet).pages:
            assert "UNPROOFED" in page.extract_text()
    assert "UNPROOFED" not in words_of(write_and_print(tmp_path / "good"), "leaf")


def write_and_print(root: Path) -> Path:
    """The small club without a fault, printed."""
    assert say(write(root), "print", "7A", "--due", "--on", "2030-04-01").exit_code == 0
    return root
