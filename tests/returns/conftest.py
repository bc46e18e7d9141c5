"""The small club with one sheet issued for engine 7A, and a full set of answers to it; nothing is rendered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.issue import issue
from docgen.job.resolve import resolve
from docgen.returns.identity import IssuedSheet, sheet_numbered, typed_number
from docgen.returns.reading import Understood, understand
from tests.smallclub import write

PRINTED, TODAY = date(2030, 4, 1), date(2030, 4, 10)
NUMBER = "7A-ROT-03-001-S1-I"
GOOD = {
    "work-started": "2030-04-02",
    "work-completed": "2030-04-03",
    "engine-hours": "4.0",
    "done-by": "Ágnes Őry",
    "tighten-rotor-nut_wrench": "Torque wrench 20 to 100",
    "tighten-rotor-nut_initials": "ÁŐ",
    "measure-rotor-gap": "0.30",
    "looked-all": "on",
    "gap-seen_second": "Bo Lind",
    "gap-seen_time": "18:20",
    "renew-plate-gasket_renewed": "on",
    "renew-plate-gasket_number": "W-12",
    "seal-off-side-plate": "S-100",
    "seal-off-side-plate_permission": "Scrutineer, 1 April",
    "seal-on-side-plate": "S-101",
    "closing-rotor-free": "on",
    "findings": "none",
    "released-by": "Ágnes Őry",
    "released-signature": "Á. Őry",
    "released-on": "2030-04-03",
    "second-by": "Bo Lind",
    "second-on": "2030-04-03",
    "next-due-what": "rotor",
    "next-due-hours": "9",
}


@dataclass(frozen=True)
class Club:
    """A club's folder with its one sheet."""

    root: Path
    folder: Folder
    sheet: IssuedSheet


def club_at(root: Path, changes: dict[str, str | None] | None = None) -> Club:
    """The small club with its sheet issued."""
    folder = read_club(write(root, changes))
    assert [str(p) for p in folder.problems if p.level == "error"] == []
    issue(
        root / "engines/7A/issued", resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], PRINTED)
    )
    return Club(root, folder, sheet_numbered(typed_number(NUMBER), folder))


@pytest.fixture(scope="session")
def club(tmp_path_factory: pytest.TempPathFactory) -> Club:
    """For tests that write nothing."""
    return club_at(tmp_path_factory.mktemp("club"))


Understand = Callable[..., Understood]


@pytest.fixture(scope="session")
def understood(club: Club) -> Understand:
    """The full set of answers with some changed (an empty text leaves a box blank), understood."""

    def ask(changes: dict[str, str] | None = None, today: date = TODAY, in_force: int | None = 3) -> Understood:
        return understand(club.sheet, GOOD | (changes or {}), today, in_force)

    return ask
