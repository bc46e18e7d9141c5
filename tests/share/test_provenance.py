"""The printed sheet says whose text it is, under which licence, and what this club changed in it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.read import read_club
from docgen.job.issue import issue
from docgen.job.resolve import resolve
from docgen.share.intake import intake
from docgen.share.origins import keep
from docgen.share.pack import pack
from docgen.share.parcel import open_parcel
from docgen.sheets.leaf import leaf
from docgen.sheets.reading import reading
from docgen.sheets.signoff import signoff
from tests.smallclub import texts, write

DAY = date(2030, 6, 10)
JOB, PLATE = "procedures/rotor-service.yaml", "procedures/plate-off.yaml"
FIRST = "      - do: Undo the screws of the side plate.\n        undoes: [plate-screws]\n        takes: 3 min\n"
SEQUENCE = """\
sequence: plate-off
title: The plate comes off
revision: 1
dated: 2030-01-01
licence: CC-BY-4.0
steps:
  - do: Undo the screws of the side plate.
    undoes: [plate-screws]
    takes: 3 min
"""


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """A club that has the job, and a sequence of it, from another."""
    job = texts()[JOB]
    assert FIRST in job
    files: dict[str, str | None] = {JOB: job.replace(FIRST, "      - use: plate-off\n"), PLATE: SEQUENCE}
    other = write(tmp_path / "other", files | {"club.yaml": texts()["club.yaml"].replace("Test Bench", "Other")})
    home = write(tmp_path / "home", {JOB: None})
    made = pack(read_club(other), ["rotor-service"])
    keep(other, made.origins, made.texts)
    intake(read_club(home), open_parcel("it", made.data), DAY).write(home)
    return home


def edit(club: Path, path: str, *edits: tuple[str, str]) -> None:
    text = (club / path).read_text("utf-8")
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (club / path).write_text(text, "utf-8")


def adapted(club: Path) -> str:
    folder = read_club(club)
    assert [p for p in folder.problems if p.level == "error"] == []
    return resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY).instructions.adapted


def test_as_it_came_nothing_is_said(club: Path) -> None:
    assert adapted(club) == ""


def test_ones_own_job_came_from_nowhere(tmp_path: Path) -> None:
    assert adapted(write(tmp_path)) == ""


@pytest.mark.parametrize(
    ("edits", "said"),
    [
        ([("wait: 10 min", "wait: 15 min")], "the job (step 7)"),
        ([("wait: 10 min", "wait: 15 min"), ("do: Fit a new gasket.", "do: Fit a new gasket, dry.")],
         "the job (steps 7, 14)"),
        ([("      - do: Clean the rotor.\n", "      - do: Look at the rotor.\n      - do: Clean the rotor.\n")],
         "the job (step 5)"),
        ([("every: {hours: 5 h,", "every: {hours: 6 h,")], "the job"),
    ],
)  # fmt: skip
def test_what_the_club_changed_is_named_by_its_step(club: Path, edits: list[tuple[str, str]], said: str) -> None:
    edit(club, JOB, *edits)
    assert adapted(club) == f"changed here since it came from Other Club: {said}"


def test_a_sequence_that_the_job_uses_counts_too(club: Path) -> None:
    edit(club, PLATE, ("takes: 3 min", "takes: 5 min"))
    edit(club, JOB, ("wait: 10 min", "wait: 15 min"))
    assert adapted(club) == "changed here since it came from Other Club: the job (step 7), plate-off (step 1)"


def test_where_the_text_that_came_is_lost_no_step_is_made_up(club: Path) -> None:
    edit(club, JOB, ("wait: 10 min", "wait: 15 min"))
    for path in (club / "shared/versions").iterdir():
        path.unlink()
    assert adapted(club) == "changed here since it came from Other Club: the job"


def test_each_paper_of_the_job_prints_it_with_author_and_licence(club: Path) -> None:
    edit(club, JOB, ("wait: 10 min", "wait: 15 min"))
    folder = read_club(club)
    job = resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY)
    for page in (leaf, reading, signoff):
        html = page(issue(folder.root, job), folder.club.value).html
        assert "Text by A. Tester, CC-BY-4.0" in html
        assert "<b>changed here since it came from Other Club: the job (step 7)</b>" in html
