"""Jobs frozen before figures were kept as figures: read with their own digests, judged as they were printed."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from docgen.job import marks as m
from docgen.job.figure import Wires
from docgen.job.frozen_before import read, typed
from docgen.job.issue import frozen, thawed
from docgen.job.job import Job
from docgen.trade.quantity import parse_quantity

KEPT = Path(__file__).parent / "frozen_before"
FILES = sorted(KEPT.glob("*.yaml"))


def marks(job: Job) -> dict[str, m.Mark]:
    return {getattr(mark, "key", ""): mark for step in job.instructions.steps for mark in step.marks}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_digests_are_those_that_the_sheet_bears(path: Path) -> None:
    text = path.read_text()
    job = thawed(text)
    assert f"issue_digest: {job.issue_digest}\ninstructions_digest: {job.instructions_digest}\n" in text
    with pytest.raises(ValueError, match="edited after it was printed"):
        thawed(text.replace("revision: ", "revision: 1", 1))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_frozen_anew_it_is_the_same_job(path: Path) -> None:
    job = thawed(path.read_text()).model_copy(update={"kept": None})
    assert thawed(frozen(job)) == job


def test_figures_are_figures_again() -> None:
    job = thawed((KEPT / "023-CLU-en.yaml").read_text())
    found = marks(job)
    nut, strap = found["tighten-clutch-nut"], found["tighten-earth-strap-screw"]
    assert isinstance(nut, m.TorqueMark)
    assert nut.value.band is not None
    assert isinstance(strap, m.TorqueMark)
    assert strap.value.band is not None
    assert (nut.value.band.limits, str(nut.set_to), str(nut.cure)) == ("30.6..37.4 N.m", "34 N.m", "24 h")
    assert (strap.value.origin, strap.value.band.limits) == ("computed", "5.85..7.15 N.m")
    bore = found["measure-drum-bore"]
    assert isinstance(bore, m.ReadingMark)
    assert bore.limit_band is not None
    assert bore.accept is not None
    assert bore.limit_band.limits == "74.00..74.30 mm"
    assert bore.accept.contains(parse_quantity("74.29 mm"))
    assert not bore.accept.contains(parse_quantity("74.30 mm"))
    past = job.issue.last_readings["drum-bore"][-1]
    assert [str(one) for one in past.values] == ["74.20 mm", "74.21 mm"]
    assert (str(past.hours), str(job.issue.hours), job.issue.since_began) == ("16.2 h", "18.4 h", False)
    assert job.issue.last_done is not None
    assert job.issue.last_done.on.isoformat() == "2026-08-15"


def test_a_german_job_is_read_in_its_own_words() -> None:
    job = thawed((KEPT / "023-PLU-de.yaml").read_text())
    gap = marks(job)["measure-plug-gap"]
    assert isinstance(gap, m.ReadingMark)
    assert isinstance(gap.accept, Wires)
    assert (gap.accept.go.value, gap.accept.stop.value) == (Decimal("0.50"), Decimal("0.60"))
    assert not gap.accept.contains(parse_quantity("0.60 mm"))


def test_hours_since_the_record_began_are_known_as_such() -> None:
    told = {"language": "", "stages": []}
    issue = {"on": "2027-02-20", "hours": "4.0 h since the record began"}
    assert read(typed({"instructions": told, "issue": issue}))["issue"] == {
        "on": "2027-02-20", "hours": "4.0 h", "since_began": True
    }  # fmt: skip


def test_a_format_of_a_later_program_is_refused_in_words() -> None:
    text = frozen(thawed(FILES[0].read_text()).model_copy(update={"kept": None}))
    with pytest.raises(ValueError, match="has the format 7; this program knows those up to 2"):
        thawed(text.replace("format: 2", "format: 7"))
