"""A new member's hour, typed at a real command line: a club, an engine, the pre-start job signed and on the card.

In a fresh folder with nothing set up, in the order in which docs and messages lead a beginner. Every command that
``tests/guides/first_evening.py`` does not type at a terminal is a process of its own. The sheet is filled in as a
tablet does it.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pymupdf
import pytest
from click.testing import CliRunner

from docgen.cli.frame import docgen
from docgen.press.fields import boxes
from tests.returns.filling import filled_in_viewer

DAY = "2027-02-27"
WRITTEN = {
    "work-started": DAY,
    "work-completed": DAY,
    "engine-hours": "3.0",
    "done-by": "Ann Weller",
    "measure-chain-slack": "12",
    "measure-battery-rest": "12.8",
    "looked-all": "on",
    "findings": "none",
    "released-by": "Ann Weller",
    "released-on": DAY,
}
"""What she writes; both readings are within the limits that the sheet prints beside them."""
CLUB = """\
Marsh Lane Karters: ours
  engine type alder-100r, 22 jobs
Look through ours/club.yaml: strike out what you have not; write your own tools and race days.
Then, in ours:  docgen new engine NUMBER
"""
ENGINE = """\
Engine 12, Alder 100R: engines/12/engine.yaml
Next:  docgen due 12   then   docgen print 12
"""
PRINTED = """\
Engine 12, Alder 100R, Ann Weller
  Race day - before the first start (asked for)
    leaf # pages  out/12/12-PRS-leaf.pdf
    sign-off # pages  out/12/12-PRS-sign-off.pdf

2 sheets on # pages for 1 engine, as of 2027-02-27.
Open first: out/12/12-PRS-leaf.pdf
"""
FILED = """\

signed.pdf
12-PRS-02-001-S1-#  Race day - before the first start, engine 12
  done 2027-02-27 at 3.0 h, by Ann Weller, released by Ann Weller on 2027-02-27
  Readings
    slack at the tight spot                       12 mm                       within 8 to 18 mm
    resting voltage of the battery                12.8 V                      within at least 12.5 V
  Looked at and checked
    # good
  note first-run-to-come: the checks after the first run are still to come
Filed: engines/12/log/2027-02-27-service-#.yaml
"""


def typed(folder: Path, *words: str, ends: int = 0) -> str:
    """Type a command in a folder; what it says. It warns of nothing, and ends as it should."""
    program = Path(sys.executable).with_name("docgen")
    assert program.is_file(), "docgen is not installed beside this Python"
    plain = {name: value for name, value in os.environ.items() if not name.startswith(("DOCGEN", "LC_", "LANG"))}
    done = subprocess.run(
        [program, *words], cwd=folder, env=plain | {"LC_ALL": "C.UTF-8"}, capture_output=True, text=True, timeout=120
    )
    assert (done.returncode, done.stderr) == (ends, ""), done.stdout + done.stderr
    return done.stdout


def said_here(folder: Path, *words: str) -> str:
    """The same of a command that others start as a process, called in this one."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        done = CliRunner().invoke(docgen, words, prog_name="docgen", catch_exceptions=False)
    assert (done.exit_code, done.stderr) == (0, ""), done.output
    return done.stdout


def masked(said: str) -> str:
    """Without what another print of the same may count or number otherwise."""
    said = re.sub(r" +\d+ pages?", " # pages", said)
    said = re.sub(r"(?<=-S1-)\w|(?<=service-)\w+", "#", said)
    return re.sub(r"(?m)^(    )\d+ good$", r"\1# good", said)


def signed(pdf: bytes) -> bytes:
    """The sheet as she hands it back: all good, readings and names written, each closing check ticked."""
    closing = [one.name for one in boxes(pdf) if one.name.startswith("closing-")]
    assert len(closing) == 3
    return filled_in_viewer(pdf, WRITTEN | dict.fromkeys(closing, "on"))


def text(path: Path) -> str:
    with pymupdf.open(path) as document:
        return " ".join(" ".join(page.get_text().split()) for page in document)


@pytest.fixture(scope="module")
def hour(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, str]]:
    """The club's folder after the hour, and what each command said."""
    start = tmp_path_factory.mktemp("hour")
    root = start / "ours"
    take = ("--name", "Marsh Lane Karters", "--take", "alder-100r", "--yes")
    said = {"club": said_here(start, "new", "club", "ours", *take)}
    hers = ("--keeper", "Ann Weller", "--serial", "S-0912", "--hours", "3 h", "--received", "2027-02-20", "--yes")
    said["engine"] = said_here(root, "new", "engine", "12", "--model", "alder-100r", *hers)
    said["before"] = typed(root, "engine", "12", "--on", DAY)
    said["print"] = said_here(root, "print", "12", "--job", "pre-start", "--on", DAY)
    (root / "signed.pdf").write_bytes(signed((root / "out/12/12-PRS-sign-off.pdf").read_bytes()))
    said["file"] = typed(root, "file", "signed.pdf", "--yes", "--on", DAY)
    said["again"] = said_here(root, "file", "signed.pdf", "--yes", "--on", DAY)
    said["after"] = said_here(root, "engine", "12", "--on", DAY)
    said["card"] = typed(root, "card", "12", "--on", DAY)
    said["verify"] = typed(root, "verify")
    return root, said


def test_each_command_says_what_it_did_and_what_comes_next(hour: tuple[Path, dict[str, str]]) -> None:
    _, said = hour
    assert said["club"] == CLUB
    assert said["engine"] == ENGINE
    assert masked(said["print"]) == PRINTED
    assert masked(said["file"]) == FILED


def test_the_leaf_is_the_job_of_her_engine(hour: tuple[Path, dict[str, str]]) -> None:
    root, _ = hour
    page = text(root / "out/12/12-PRS-leaf.pdf")
    for wanted in ("Race day - before the first start", "Alder 100R · serial S-0912", "12-PRS-02-001-L1-"):
        assert wanted in page, wanted


def test_the_engine_s_record_shows_the_job(hour: tuple[Path, dict[str, str]]) -> None:
    _, said = hour
    assert "\nLog\n  none\n" in said["before"]
    line = "  2027-02-27  Race day - before the first start, revision 2, Ann Weller, sheet 12-PRS-02-001-S1-#"
    assert masked(said["after"]).partition("\nLog\n")[2].splitlines() == [line]
    readings = said["after"].partition("\nLatest readings\n")[2].partition("\n\n")[0]
    assert readings.splitlines() == [
        "  resting voltage of the battery: 12.8 V (2027-02-27, 3.0 h)",
        "  slack at the tight spot: 12 mm (2027-02-27, 3.0 h)",
    ]


def test_so_does_the_card(hour: tuple[Path, dict[str, str]]) -> None:
    root, said = hour
    assert masked(said["card"]) == "Card of engine 12, # pages: out/12/12-card.pdf\n"
    card = text(root / "out/12/12-card.pdf")
    for wanted in (
        "Race day - before the first start, revision 2 Ann Weller 12-PRS-02-001-S1-",
        "12.8 V 27 February 2027, 3.0 h",
        "12 mm 27 February 2027, 3.0 h",
    ):
        assert wanted in card, wanted


def test_the_record_is_whole_and_a_second_filing_changes_nothing(hour: tuple[Path, dict[str, str]]) -> None:
    root, said = hour
    (event,) = (root / "engines/12/log").iterdir()
    (kept,) = (root / "engines/12/signed").iterdir()
    assert kept.read_bytes() == (root / "signed.pdf").read_bytes()
    assert said["again"].endswith(f"is already filed, as {event.name}. Nothing was written.\n")
    assert "1 log, 1 event: every file is as it was written" in said["verify"]
