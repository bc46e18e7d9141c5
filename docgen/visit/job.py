"""A visit as a Job: what its leaf, its sign-off sheet, its kit and its filing are made from, as of any other job."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.schema.procedure import Procedure
from docgen.club.schema.prose import Prose, versions
from docgen.job.figures import Figures
from docgen.job.job import Check, Instructions, Job, JobStage, JobStep, Part, Saved
from docgen.job.provenance import adapted
from docgen.job.resolve import figures_of, resolved
from docgen.job.resolve import resolve as resolved_alone
from docgen.visit.grouping import Visit, visit
from docgen.visit.pieces import total

CLAUSE = re.compile(r"[.,;](?:\s+|$)")
NAME, CODE = "visit", "VIS"
"""What a visit is called where a job has its procedure's name and code."""
CHECKS = 3
"""How many closing checks a job may ask for."""


def visit_job(
    folder: Folder, record: EngineRecord, found: Visit, on: date, *, why_due: str = "", unproofed: int = 0
) -> Job:
    """The job of a visit whose jobs were joined (:func:`docgen.visit.grouping.visit`)."""
    figures = figures_of(folder, record, on)
    jobs = [read.value for read in found.jobs]
    job = resolved(record, figures, _whole(jobs, found, figures), found.steps, found.messages, on, why_due)
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


def _whole(jobs: Sequence[Procedure], found: Visit, figures: Figures) -> Procedure:
    """What a procedure says of itself, for all of them; its stages are not asked for.

    Checked one by one before the release is what each job so asks for and looks at once the whole engine runs; what it
    looks at before stands in the line for all that was looked at. A job that gathers others speaks for them; where it
    asks for fewer than a job may, those follow that most of its jobs ask for.
    """

    def each(key: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(name for job in jobs for name in getattr(job, key)))

    steps = [one.step for one in found.steps]
    first = next((n for n, step in enumerate(steps) if step.runs), len(steps))
    running = {step.look.id for step in steps[first:] if step.look}
    asked = Counter(name for job in jobs for name in job.closing if not running or name in running)
    own = [name for job in jobs if job.gathers for name in job.closing if name in asked]
    most = tuple(dict.fromkeys((*own, *(name for name, _ in asked.most_common()))))[:CHECKS]
    gathered = {name for job in jobs for name in job.gathers}
    called = [job.title if job.gathers else job.code for job in jobs if job.procedure not in gathered]
    return Procedure.model_construct(
        procedure=NAME,
        title=figures.words("One visit: {jobs}", jobs=" ".join(map(str, called))),
        code=CODE,
        revision=1,
        dated=max(job.dated for job in jobs),
        covers=tuple(job.procedure for job in jobs),
        before=said_once(each("before")),
        tools=each("tools"),
        spares=each("spares"),
        closing=most if any(job.gathers for job in jobs) else tuple(asked),
        stages=(),
    )


def said_once(items: Sequence[Prose]) -> tuple[Prose, ...]:
    """What must be true before the start, each clause once: an item goes where the others say all that it says.

    >>> said_once(["Eyes covered, gloves on.", "Gloves on.", "Tap shut.", "Sleeves tight, gloves on."])
    ('Eyes covered, gloves on.', 'Tap shut.', 'Sleeves tight, gloves on.')
    """
    kept = list(items)
    for one in sorted(items, key=lambda item: len(_clauses(item))):
        others = {clause for other in kept if other is not one for clause in _clauses(other)}
        if _clauses(one) <= others:
            kept.remove(one)
    return tuple(kept)


def _clauses(item: Prose) -> frozenset[tuple[str, str]]:
    said = versions(item).items()
    return frozenset((tongue, clause.lower()) for tongue, text in said for clause in CLAUSE.split(text) if clause)


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
    """The jobs and those that they gather, as far as they are for this engine, without those that a larger one of them
    contains."""
    model = folder.models[record.engine.model].value
    names = dict.fromkeys(name for job in jobs for name in (job.value.procedure, *job.value.gathers))
    every = [folder.procedures[name] for name in names if folder.fits(name, model)]
    covered = {name for job in every for name in job.value.covers}
    return [one for one in every if one.value.procedure not in covered]


def sheets(folder: Folder, record: EngineRecord, found: Visit, on: date, why: Mapping[str, str]) -> list[Job]:
    """The visit, then the jobs that stay apart. why : by the job's name, why it is due"""
    alone = [*(found.jobs if not found.steps else ()), *(job for job, _ in found.apart)]
    made = [resolved_alone(folder, record, job, on, why_due=why.get(job.value.procedure, "")) for job in alone]
    if not found.steps:
        return made
    told = (f"{job.value.code} {why.get(job.value.procedure, '').partition(':')[0]}".strip() for job in found.jobs)
    return [visit_job(folder, record, found, on, why_due=", ".join(told)), *made]


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
