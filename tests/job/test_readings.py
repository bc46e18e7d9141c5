"""Accept bands and wear, from the gauge register and the log of a club made from scratch."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from docgen.club.log import digest
from docgen.club.read import read_club
from docgen.club.store import append
from docgen.club.words import Words
from docgen.job.job import Job
from docgen.job.marks import ReadingMark
from docgen.job.resolve import resolve
from docgen.sheets.figures import HARD, figure
from tests.smallclub import texts, write

DAY = date(2030, 4, 1)


def job(root: Path, model: str | None = None, club: str | None = None) -> Job:
    changes = {k: v for k, v in (("models/willow-80.yaml", model), ("club.yaml", club)) if v is not None}
    folder = read_club(write(root, dict(changes)))
    assert folder.problems == []
    return resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY)


def reading(done: Job) -> ReadingMark:
    return next(m for s in done.instructions.steps for m in s.marks if isinstance(m, ReadingMark))


def accepted(mark: ReadingMark) -> str:
    """The band as the sheets print it."""
    return figure(mark.accept, Words()).replace(HARD, " ") if mark.accept else ""


@pytest.mark.parametrize(
    ("gauge", "accept", "said"),
    [
        # 0.20..0.45 mm less the uncertainty at each end, to what the gauge shows (ISO 14253-1, ILAC-G8 guard band
        # w = U); but new rotors have 0.20..0.30 mm, of which none is drawn out
        ("reads: 0.05 mm, uncertainty: 0.01 mm", "0.20 to 0.40 mm", ""),
        ("reads: 0.01 mm, uncertainty: 0.02 mm", "0.20 to 0.43 mm", ""),
        ("reads: 0.01 mm, uncertainty: 0.08 mm", "0.20 to 0.37 mm", "the gauge's 0.08 mm takes 64 % of 0.20..0.45 mm"),
        ("reads: 0.1 mm, uncertainty: 0.2 mm", "",
         "a gauge of 0.2 mm and 0.1 mm cannot decide 0.20..0.45 mm: measure with a finer gauge"),
        ("reads: 0.01 mm, uncertainty: 10 %", "0.20 to 0.40 mm", ""),
        ("reads: 0.01 mm", "", ""),
        # a set of wires has no figures
        ("wires: true, range: 0.10..0.60 mm, reads: 0.1 mm", "0.20 passes, 0.40 does not", ""),
        ("wires: true, range: 0.10..0.90 mm, reads: 0.4 mm", "",
         "a gauge of 0.4 mm cannot decide 0.20..0.45 mm: measure with a finer gauge"),
    ],
)  # fmt: skip
def test_accept_between(tmp_path: Path, gauge: str, accept: str, said: str) -> None:
    club = texts()["club.yaml"].replace("reads: 0.05 mm, uncertainty: 0.01 mm", gauge)
    mark = reading(job(tmp_path, club=club))
    assert (accepted(mark), mark.undecided) == (accept, said)


@pytest.mark.parametrize(
    ("limit", "accept", "said"),
    [
        ("wears: up, new: 0.20..0.30 mm, allow: 0.20..0.45 mm", "at most 0.43 mm", ""),
        ("wears: down, new: 0.40..0.45 mm, allow: 0.20..0.45 mm", "at least 0.22 mm", ""),
        ("wears: up, new: 0.20..0.30 mm, allow: 0.15..0.45 mm", "0.17 to 0.43 mm", ""),
        ("wears: up, new: <= 0.30 mm, allow: <= 0.32 mm", "at most 0.30 mm",
         "the gauge's 0.02 mm takes 100 % of 0.30..0.32 mm"),
        ("wears: up, allow: <= 0.32 mm", "at most 0.30 mm", ""),
    ],
)  # fmt: skip
def test_what_wears_is_guarded_where_wear_goes(tmp_path: Path, limit: str, accept: str, said: str) -> None:
    club = texts()["club.yaml"].replace("reads: 0.05 mm, uncertainty: 0.01 mm", "reads: 0.01 mm, uncertainty: 0.02 mm")
    model = texts()["models/willow-80.yaml"].replace("new: 0.20..0.30 mm, allow: 0.20..0.45 mm", limit)
    mark = reading(job(tmp_path, model, club))
    assert (accepted(mark), mark.undecided) == (accept, said)


def test_a_difference_of_two_parts_has_two_ends(tmp_path: Path) -> None:
    model = texts()["models/willow-80.yaml"].replace(
        "  rotor-gap: {gauge: feelers, new: 0.20..0.30 mm, allow: 0.20..0.45 mm, kind: gap}",
        """  bore: {gauge: feelers, new: 9.40..9.50 mm, allow: 9.40..9.60 mm}
  shaft: {gauge: feelers, new: 9.20..9.20 mm, allow: 9.15..9.20 mm}
  rotor-gap: {from: {difference: [bore, shaft]}, wears: up, new: 0.20..0.30 mm, allow: 0.20..0.45 mm}""",
    )
    club = texts()["club.yaml"].replace("reads: 0.05 mm", "reads: 0.01 mm")
    mark = reading(job(tmp_path, model, club))
    assert accepted(mark) == "0.20 to 0.43 mm"  # U of the two: root of 2 x 0.01^2 is 0.015


def measured(root: Path, *readings: tuple[str, str], renewed_after: int | None = None) -> str:
    """What the next sheet says of wear, after services an hour of running apart with these gaps."""
    write(
        root,
        {
            "models/willow-80.yaml": texts()["models/willow-80.yaml"].replace(
                "gauge: feelers, new", "of: rotor, wears: up, gauge: feelers, new"
            )
        },
    )
    parents: tuple[str, ...] = ()

    def file(event: dict[str, object]) -> None:
        nonlocal parents
        parents = (digest(append(root / "engines/7A/log", event, parents).read_bytes()),)

    for index, (day, gap) in enumerate(readings):
        file({"event": "run", "date": day, "hours": "2 h"})
        done: dict[str, object] = {"readings": {"rotor-gap": gap}}
        if renewed_after == index:
            done = {"readings": {"rotor-gap": gap}, "renewed": {"rotor": "R-2"}}
        file({"event": "service", "date": day, "procedure": "rotor-service", "revision": "3", **done})
    folder = read_club(root)
    assert folder.problems == []
    return resolve(folder, folder.engines["7A"], folder.procedures["rotor-service"], DAY).issue.wear.get(
        "rotor-gap", ""
    )


def test_one_reading_gives_the_margin_only(tmp_path: Path) -> None:
    assert measured(tmp_path, ("2030-01-05", "0.25 mm")) == "0.2 mm to the limit"


def test_three_readings_give_hours_left(tmp_path: Path) -> None:
    said = measured(tmp_path, ("2030-01-05", "0.25 mm"), ("2030-02-05", "0.30 mm"), ("2030-03-05", "0.35 mm"))
    assert said.startswith("0.1 mm to the limit: about 4 h left (")


def test_a_renewed_part_starts_anew(tmp_path: Path) -> None:
    readings = ("2030-01-05", "0.25 mm"), ("2030-02-05", "0.40 mm"), ("2030-03-05", "0.25 mm")
    assert measured(tmp_path, *readings, renewed_after=1) == "0.2 mm to the limit"


def test_readings_that_go_back_are_said(tmp_path: Path) -> None:
    said = measured(tmp_path, ("2030-01-05", "0.40 mm"), ("2030-02-05", "0.25 mm"))
    assert said == "0.2 mm to the limit; a reading went back: measure twice"
