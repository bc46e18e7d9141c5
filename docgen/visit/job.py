"""A visit as a Job: what its leaf, its sign-off sheet, its kit and its filing are made from, as of any other job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.procedure import Procedure
from docgen.job.figures import Figures
from docgen.job.job import Check, Instructions, Job, JobStage, JobStep, Part, Saved
from docgen.job.provenance import adapted
from docgen.job.resolve import figures_of, resolved
from docgen.visit.pieces import total
from docgen.visit.together import Visit, visit

NAME, CODE = "visit", "VIS"
"""What a visit is called where a job has its procedure's name and code."""


def visit_job(
    folder: Folder, record: EngineRecord, found: Visit, on: date, *, why_due: str = "", unproofed: int = 0
) -> Job:
    """The job of a visit whose jobs were joined (:func:`docgen.visit.together.visit`)."""
    figures = figures_of(folder, record, on)
    jobs = [read.value for read in found.jobs]
    safety = tuple(one.message for one in found.messages)
    job = resolved(record, figures, _whole(jobs, figures), found.steps, safety, on, why_due)
    changed = dict.fromkeys(adapted(folder, read, figures.model, figures.words) for read in found.jobs)
    also = {
        "stages": _own_keys(job.instructions),
        "after_run": tuple(_after_run(jobs, figures)),
        "unproofed": unproofed,
        "adapted": "; ".join(filter(None, changed)),
        "parts": tuple(_part(one, figures) for one in jobs),
        "saved": _saved(found),
    }
    return job.model_copy(update={"instructions": job.instructions.model_copy(update=also)})


def _whole(jobs: Sequence[Procedure], figures: Figures) -> Procedure:
    """What a procedure says of itself, for all of them; its stages are not asked for."""

    def each(key: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(name for job in jobs for name in getattr(job, key)))

    codes = " ".join(job.code for job in jobs)
    return Procedure.model_construct(
        procedure=NAME,
        title=figures.words.visit_of.format(jobs=codes),
        code=CODE,
        revision=1,
        dated=max(job.dated for job in jobs),
        covers=tuple(job.procedure for job in jobs),
        before=each("before"),
        tools=each("tools"),
        spares=each("spares"),
        closing=each("closing"),
        stages=(),
    )


def _own_keys(told: Instructions) -> tuple[JobStage, ...]:
    """Every field's key only once in the whole list, so that a job's part of it keeps its keys."""
    seen: Counter[str] = Counter()

    def keyed(step: JobStep) -> JobStep:
        marks = []
        for mark in step.marks:
            key = getattr(mark, "key", "")
            seen[key] += 1
            marks.append(mark.model_copy(update={"key": f"{key}-{seen[key]}"}) if key and seen[key] > 1 else mark)
        return step.model_copy(update={"marks": tuple(marks)})

    stages = ((stage, tuple(keyed(step) for step in stage.steps)) for stage in told.stages)
    return tuple(stage.model_copy(update={"steps": steps}) for stage, steps in stages)


def _checked_after(job: Procedure, figures: Figures) -> Iterator[Check]:
    for one in job.after_run:
        if set(one.only_with) <= set(figures.model.equipment):
            yield Check(key=one.id, text=one.do, accept=one.accept or "")


def _after_run(jobs: Sequence[Procedure], figures: Figures) -> Iterator[Check]:
    """The checks after the first run, each once; where two jobs call different ones the same, by their codes."""
    seen: dict[str, Check] = {}
    for job in jobs:
        for check in _checked_after(job, figures):
            own = check.model_copy(update={"key": _own(check, seen, job)})
            if own.key not in seen:
                seen[own.key] = own
                yield own


def _own(check: Check, seen: dict[str, Check], job: Procedure) -> str:
    there = seen.get(check.key)
    same = there is None or (there.text, there.accept) == (check.text, check.accept)
    return check.key if same else f"{check.key}-{job.code.lower()}"


def _part(job: Procedure, figures: Figures) -> Part:
    keys = {check.key for check in _checked_after(job, figures)}
    both = (*sorted(keys), *(f"{key}-{job.code.lower()}" for key in sorted(keys)))
    return Part(procedure=job.procedure, title=job.title, code=job.code, revision=job.revision, closing=job.closing,
                after_run=both)  # fmt: skip


def _saved(found: Visit) -> Saved | None:
    if found.order is None:
        return None
    removals, seconds = total(found.tasks)
    return Saved(removals_apart=removals, removals=found.order.removals, minutes_apart=round(seconds / 60),
                 minutes=round(found.order.seconds / 60), fewest=found.order.proved)  # fmt: skip


def in_one_visit(folder: Folder, record: EngineRecord, jobs: Sequence[Read[Procedure]]) -> list[Read[Procedure]]:
    """Those of the jobs that are for this engine, without those that a larger one of them contains."""
    model = folder.models[record.engine.model].value
    covered = {name for job in jobs for name in job.value.covers}
    return [one for one in jobs if folder.fits(one.value.procedure, model) and one.value.procedure not in covered]


def again(folder: Folder, printed: Job, on: date) -> Job | None:
    """The visit that a printed one would be on the day `on`; None where its jobs are not joined any more."""
    told = printed.instructions
    record = folder.engines.get(told.engine)
    names = [part.procedure for part in told.parts]
    if record is None or record.engine.model not in folder.models or not set(names) <= set(folder.procedures):
        return None
    jobs = in_one_visit(folder, record, [folder.procedures[name] for name in names])
    found = visit(folder, record, jobs, on)
    whole = bool(found.steps) and len(found.jobs) == len(names)
    return visit_job(folder, record, found, on, unproofed=told.unproofed) if whole else None
