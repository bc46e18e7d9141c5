"""What was frozen when a sheet was printed is read again when the signed sheet comes back, also by a later version."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from docgen.club.read import read_club
from docgen.club.uses import applies
from docgen.job.issue import frozen, thawed
from docgen.job.job import Job
from docgen.job.marks import ApplyMark
from docgen.job.resolve import resolve

ROOT = Path(__file__).resolve().parents[2]
ENGINE, DAY = "023", date(2027, 2, 20)


def test_every_shipped_job_is_read_back_as_it_was_frozen() -> None:
    """Among them jobs with a material that goes on no part (solder for a wire): what is empty is not written."""
    folder = read_club(ROOT)
    record = folder.engines[ENGINE]
    model = folder.models[record.engine.model].value
    jobs = [resolve(folder, record, one, DAY) for one in folder.procedures.values() if applies(one.value, model)]
    assert len(jobs) >= 20
    assert any(_on_no_part(job) for job in jobs)
    for job in jobs:
        assert thawed(frozen(job)) == job


def _on_no_part(job: Job) -> bool:
    marks = (mark for step in job.instructions.steps for mark in step.marks)
    return any(isinstance(mark, ApplyMark) and not mark.to for mark in marks)
