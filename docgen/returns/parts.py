"""The sheet of a visit as the sheets of its jobs: each complete job is read, judged and filed as if it had its own.

What is written once for all of them (findings, earlier findings dealt with, parts renewed beside, what is struck, what
is due next) goes with the first complete job.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace

from docgen.job.job import Job, JobStage, JobStep, Part
from docgen.returns.answers import Answers
from docgen.returns.diagnostic import Refused
from docgen.returns.identity import IssuedSheet
from docgen.returns.refiling import filed_as
from docgen.returns.writing import ticked

ONCE = ("also-renewed-", "open-finding-", "struck", "next-due-")
"""What the fields begin with that are filed once."""


@dataclass(frozen=True)
class OfPart:
    """One job of a visit: its part of the sheet, and the answers that go with it.

    elsewhere : the labels of the rows that are filed with other jobs
    first     : whether what is written once for all of them goes with this one
    whole     : whether the sheet is of one job only
    """

    sheet: IssuedSheet
    answers: Answers
    elsewhere: frozenset[str] = frozenset()
    first: bool = True
    whole: bool = False


def parts(sheet: IssuedSheet, answers: Answers) -> tuple[tuple[OfPart, ...], tuple[Part, ...]]:
    """The jobs that are ticked as complete, and those that stay open. A sheet of one job is its own only part.

    What was done for several jobs goes with the first of them. Those that were filed before come first, so that they
    say again what they said then.
    Errors: Refused ``no-job-complete`` where none is ticked.
    """
    told = sheet.job.instructions
    if not told.parts:
        return (OfPart(sheet, answers, whole=True),), ()
    complete = [one for one in told.parts if ticked(answers.get(one.box, ""))]
    if not complete:
        message = f"none of the {len(told.parts)} jobs of this visit is ticked as complete: there is nothing to file"
        hint = "tick those that are; what was only begun stays open"
        raise Refused("no-job-complete", message, hint, told.parts[0].box)
    filed = {one.procedure: place for one in complete if (place := _filed(sheet, one)) is not None}
    complete.sort(key=lambda one: filed.get(one.procedure, len(sheet.record.log.entries)))
    found = [_part(sheet, answers, complete[: n + 1]) for n, _ in enumerate(complete)]
    return tuple(found), tuple(one for one in told.parts if one not in complete)


def _filed(sheet: IssuedSheet, part: Part) -> int | None:
    """Where in the log a job of the visit stands already."""
    held = filed_as(replace(sheet, job=job_of(sheet.job, part, ())))
    return None if held is None else sheet.record.log.held.index(held)


def _part(sheet: IssuedSheet, answers: Answers, so_far: list[Part]) -> OfPart:
    *before, part = so_far
    job = job_of(sheet.job, part, [one.procedure for one in before])
    own = {label for step in job.instructions.steps for label in (step.called, str(step.row))}
    every = {label for step in sheet.job.instructions.steps for label in (step.called, str(step.row))}
    left = {name: text for name, text in answers.items() if not before or not name.startswith(ONCE)}
    return OfPart(replace(sheet, job=job), left, frozenset(every - own), not before)


def job_of(job: Job, part: Part, before: Collection[str]) -> Job:
    """One job of a visit as if it had been printed alone, without what was done for those `before` it as well; its
    digests are those of the sheet that was printed."""
    told = job.instructions

    def own(stage: JobStage) -> tuple[JobStep, ...]:
        return tuple(s for s in stage.steps if part.procedure in s.jobs and not set(before) & set(s.jobs))

    also = {
        "procedure": part.procedure,
        "title": part.title,
        "revision": part.revision,
        "parts": (),
        "stages": tuple(stage.model_copy(update={"steps": steps}) for stage in told.stages if (steps := own(stage))),
        "closing": tuple(one for one in told.closing if one.key in part.closing),
        "after_run": tuple(one for one in told.after_run if one.key in part.after_run),
    }
    return job.model_copy(update={"instructions": told.model_copy(update=also), "kept": job.digests})
