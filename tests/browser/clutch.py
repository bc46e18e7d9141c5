"""The demo's clutch sheet, issued in a copy of the club and photographed; what a mechanic types beside the pictures."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

from docgen.camera.gather import gather
from docgen.club.read import read_club
from docgen.desk.entry import Entry
from docgen.desk.filing import Paper
from docgen.job.issue import issue, number_of
from docgen.job.resolve import resolve
from docgen.returns.identity import sheet_numbered
from docgen.returns.sandbox import Reader
from tests.camera.taken import printed, saved, tilted
from tests.conftest import ROOT
from tests.returns.conftest import Club

PRINTED, TODAY = date(2027, 2, 20), date(2027, 2, 22)
TICKED = ("tighten-clutch-nut_paint", "renew-shaft-o-ring_renewed", "renew-chain-clip_renewed", "looked-all",
          "closing-turns-over", "closing-axle-stands-still")  # fmt: skip
UNCLEAR = "closing-stop-switch-kills"
TYPED = {
    "work-started": "2027-02-20",
    "work-completed": "2027-02-21",
    "engine-hours": "10,2",
    "done-by": "Ida Brandt",
    "tighten-clutch-nut_wrench": "Torque wrench 10 to 60",
    "tighten-clutch-nut_initials": "IB",
    "measure-outer-washer-thickness": "1,94",
    "measure-drum-bore_1": "74.11",
    "measure-drum-bore_2": "74,12",
    "measure-shoe-diameter": "73.08",
    "measure-clutch-clearance": "1,03",
    "measure-drum-end-float": "0,80",
    "measure-chain-slack": "12",
    "measure-earth-drop": "0.12",
    "measure-engagement-speed": "3400",
    "clearance-hold_second": "Olaf Fenn",
    "clearance-hold_time": "2027-02-21 18:20",
    "wait-2_start": "2027-02-20 19:00",
    "wait-2_finish": "2027-02-21 19:30",
    "renew-shaft-o-ring_number": "AL-1125",
    "renew-chain-clip_number": "AL-4072",
    "findings": "Drum end float 0.80 mm, a shim to be fitted",
    "released-by": "Ida Brandt",
    "released-signature": "I. Brandt",
    "released-on": "2027-02-21",
}
OUTSIDE = "measure-drum-end-float"


def issued(root: Path) -> Club:
    """A copy of the demo with the clutch sheet of engine 017 issued."""
    root.mkdir()
    for name in ("club.yaml", "glossary.yaml", "stock.yaml"):
        shutil.copy(ROOT / name, root)
    for name in ("engines", "models", "procedures"):
        shutil.copytree(ROOT / name, root / name, ignore=shutil.ignore_patterns("issued"))
    folder = read_club(root)
    job = resolve(folder, folder.engines["017"], folder.procedures["clutch-service"], PRINTED)
    number = number_of(issue(root / "engines/017/issued", job))
    number = type(number)(number.engine, number.code, number.revision, number.print, "S")
    folder = read_club(root)
    return Club(root, folder, sheet_numbered(number, folder))


def photographed(club: Club) -> tuple[Entry, dict[str, bytes]]:
    """Both faces photographed, one of their boxes unclear; the sheet on its page, and the files."""
    paper = printed(club)
    files = {f"{page}.jpg": saved(tilted(paper.face(page, TICKED, (UNCLEAR,)), page)) for page in paper.pages}
    with Reader(seconds=120) as reader:
        found = gather([(Path(name), data) for name, data in files.items()], club.folder, reader)
    assert found.said == ()
    papers = [Paper(shot.data, "jpg", page) for page, shot in sorted(found.sheets[0].shots.items())]
    return Entry(club.folder, club.sheet, TODAY, found.sheets[0], papers), files
