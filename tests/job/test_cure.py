"""What cures longest, on the job and after any of its steps."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from docgen.club.read import read_club
from docgen.job.job import Cure
from docgen.job.resolve import resolve
from docgen.trade.quantity import parse_quantity
from tests.smallclub import texts, write

CLUB = texts()["club.yaml"] + (
    "  slow: {name: Slow locker, kind: threadlocker, cures: {handling: 1 h, full: 3 day}}\n"
    "  sealant: {name: Joint sealant, kind: sealant, cures: {handling: 1 h, full: 36 h}}\n"
)
JOB = texts()["procedures/rotor-service.yaml"]
MODEL = texts()["models/willow-80.yaml"]
SEALANT = """\
      - do: Put sealant on the face of the side plate.
        applies: {sealant: side-plate}
      - do: Put the side plate on.
"""


def cure(root: Path, job: str = JOB, model: str = MODEL) -> Cure | None:
    folder = read_club(write(root, {"club.yaml": CLUB, "procedures/rotor-service.yaml": job,
                                    "models/willow-80.yaml": model}))  # fmt: skip
    assert folder.problems == []
    read = folder.procedures["rotor-service"]
    return resolve(folder, folder.engines["7A"], read, date(2030, 4, 1)).instructions.longest_cure


def test_the_time_its_reason_and_the_step_from_which_it_counts(tmp_path: Path) -> None:
    day = parse_quantity("24 h")
    assert cure(tmp_path) == Cure(time=day, why="Threadlocker cures", items=("rotor nut",), after="12")


def test_the_longest_decides_and_of_several_the_last(tmp_path: Path) -> None:
    sealed = JOB.replace("      - do: Put the side plate on.\n", SEALANT)
    found = cure(tmp_path / "a", sealed)
    assert found == Cure(time=parse_quantity("36 h"), why="Joint sealant cures", items=("side plate",), after="15")
    slow = MODEL.replace(
        "by_feel: evenly and snug", "by_feel: evenly and snug, lubrication: threadlocker, locker: lock"
    )
    found = cure(tmp_path / "b", model=slow)
    assert found is not None
    assert (str(found.time), found.items, found.after) == ("24 h", ("rotor nut", "plate screws"), "17")
    slow = MODEL.replace("locker: lock", "locker: slow")
    assert cure(tmp_path / "c", sealed, slow) == Cure(
        time=parse_quantity("3 day"), why="Slow locker cures", items=("rotor nut",), after="12"
    )


def test_a_job_without_threadlocker_waits_for_nothing(tmp_path: Path) -> None:
    dry = MODEL.replace("    lubrication: threadlocker\n    locker: lock\n", "")
    assert cure(tmp_path, model=dry) is None
