"""The demo club's engine 023 with its four due jobs as one visit; nothing is rendered."""

from __future__ import annotations

import shutil
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from docgen.club.folder import Folder, Read
from docgen.club.read import read_club
from docgen.club.schema.procedure import Procedure
from docgen.job import marks as m
from docgen.job.issue import issue, number_of
from docgen.job.job import Job
from docgen.job.number import SIGNOFF, SheetNumber
from docgen.returns.identity import IssuedSheet, sheet_numbered
from docgen.returns.layout import sections
from docgen.sheets.entries import keyed
from docgen.trade.quantity import Band
from docgen.visit.grouping import Visit, visit
from docgen.visit.job import visit_job

ROOT = Path(__file__).parents[2]
ON, DONE, TODAY = date(2027, 2, 20), date(2027, 2, 22), date(2027, 2, 25)
CODES = ("CLU", "PLU", "SPR", "STA")
NAMES = ("clutch-service", "spark-plug-renewal", "sprocket-chain-inspection", "starter-drive-service")


@dataclass(frozen=True)
class Printed:
    """A club's folder, the visit, and its job as it was issued."""

    root: Path
    folder: Folder
    visit: Visit
    job: Job

    @property
    def number(self) -> SheetNumber:
        """The sign-off sheet's."""
        number = number_of(self.job)
        return SheetNumber(number.engine, number.code, number.revision, number.print, SIGNOFF)

    def sheet_in(self, folder: Folder) -> IssuedSheet:
        """The sign-off sheet, against the record as it is there."""
        return sheet_numbered(self.number, folder)


def jobs(folder: Folder, codes: tuple[str, ...]) -> list[Read[Procedure]]:
    return [folder.procedures[folder.codes[code]] for code in codes]


def printed_at(root: Path) -> Printed:
    """The demo club in another folder, with the visit issued."""
    for name in ("procedures", "models", "engines/023"):
        shutil.copytree(ROOT / name, root / name)
    for name in ("club.yaml", "stock.yaml", "glossary.yaml"):
        shutil.copy(ROOT / name, root / name)
    folder = read_club(root)
    record = folder.engines["023"]
    found = visit(folder, record, jobs(folder, CODES), ON)
    job = issue(root / "engines/023/issued", visit_job(folder, record, found, ON))
    return Printed(root, folder, found, job)


@pytest.fixture(scope="session")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """For tests that write nothing."""
    return printed_at(tmp_path_factory.mktemp("visit"))


@pytest.fixture
def fresh(tmp_path: Path, printed: Printed) -> Printed:
    """The same in a folder of its own, for tests that file."""
    shutil.copytree(printed.root, tmp_path / "club")
    return replace(printed, root=tmp_path / "club")


def middle(band: Band | None) -> str:
    """A figure in the middle of a band, or at the only end that it has."""
    assert band is not None
    ends = [end for end in (band.low, band.high) if end is not None]
    return str(sum(ends) / len(ends))


def answers(job: Job, complete: tuple[str, ...] = NAMES) -> dict[str, str]:
    """Every box filled in as it should be, and the jobs that are complete ticked."""
    found: dict[str, str] = {}
    figures: dict[str, str] = {}
    for _, mark, key in keyed(job.instructions.steps):
        if isinstance(mark, m.ReadingMark):
            places = [f"{key}_{n}" for n, _ in enumerate(mark.positions, 1)] or [key]
            figures |= dict.fromkeys(places, middle(mark.new.band if mark.new and mark.new.band else mark.limit_band))
        elif isinstance(mark, m.SettingMark):
            figures[key] = str(mark.start.band.low if mark.start.band else 1)
    for section in sections(job):
        for row in section.rows:
            for field in row.fields:
                if field.kind == "checkbox":
                    found[field.name] = "on"
                elif field.name in figures:
                    found[field.name] = figures[field.name]
                elif field.kind == "date":
                    found[field.name] = DONE.isoformat()
                elif not field.name.startswith(("also-renewed", "next-due", "looked-except", "struck", "findings")):
                    found[field.name] = "Ida" if field.name.endswith(("by", "initials")) else "W-25"
    own = {f"job-{name}": "on" if name in complete else "" for name in NAMES}
    more = {"engine-hours": "18.4", "work-completed": DONE.isoformat(), "work-started": DONE.isoformat(),
            "findings": "none", "done-by": "Ida", "released-by": "Greta", "open-finding-1_done": "",
            "open-finding-1_how": "",
            "also-renewed-1": "chain", "clearance-hold_second": "Bo", "second-by": "Bo"}  # fmt: skip
    return found | own | more
