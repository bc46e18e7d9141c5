"""Several jobs of one engine as one strip-down: its sheets, and what to lay ready for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from docgen.club.folder import Folder
from docgen.club.problem import told
from docgen.desk.choosing import Unclear, Unprinted, jobs_named
from docgen.desk.kit import LaidReady, ready_for
from docgen.desk.mat import flat, mat_wish
from docgen.desk.pages import Wish
from docgen.desk.wanted import Say, wanted_jobs
from docgen.job.job import Job
from docgen.job.resolve import figures_of
from docgen.plan.laydown import laydown_of, without_size
from docgen.visit.job import CODE, in_one_visit, sheets
from docgen.visit.together import Visit, visit


@dataclass(frozen=True)
class Joined:
    """The jobs joined, as many as can be, as the jobs that are printed: the visit, and those that stay apart."""

    folder: Folder
    found: Visit
    jobs: list[Job]
    on: date

    @property
    def suffix(self) -> str:
        """What sets its kit list apart."""
        return f"-{self.jobs[0].instructions.engine}-{CODE}"

    def kit(self) -> LaidReady:
        """What to lay ready for all of it. Errors: Faulty where the shelf has faults."""
        return ready_for(self.folder, self.jobs)

    def mat(self, out: Path) -> list[Wish]:
        """One mat for the visit; none where nothing comes off, or a piece's size is not stated."""
        instructions = self.jobs[0].instructions
        record = self.folder.engines[instructions.engine]
        laid = laydown_of(self.found.steps, figures_of(self.folder, record, self.on))
        if not laid.pieces or without_size(self.folder, instructions.model, laid):
            return []
        page, said = flat(self.folder.club.value)(laid, instructions)
        return [mat_wish(self.folder, instructions, page, said, self.on, out, "mat")]


def joined(folder: Folder, engine: str, jobs: Sequence[str], on: date, say: Say) -> Joined | None:
    """Join the jobs named, with what they gather, or all that is due; None where nothing is.

    say : told of the jobs that stay apart, and why
    Errors: Faulty, Unclear; Unprinted where proofing finds faults.
    """
    wanted = wanted_jobs(folder, [engine], _with_gathered(folder, engine, jobs), on, say=say)
    if faults := sorted({p for want in wanted for p in want.faults}):
        raise Unprinted([told(faults)], "Mend the faults first.")
    if CODE in folder.codes:
        raise Unclear(f"{folder.codes[CODE]} has the code {CODE}, which a visit bears: give it another one")
    if not wanted:
        return None
    record = wanted[0].record
    found = visit(folder, record, in_one_visit(folder, record, [want.procedure for want in wanted]), on)
    for job, reason in found.apart:
        say(f"{job.value.title} is printed by itself: {reason}.")
    why = {want.procedure.value.procedure: want.why for want in wanted}
    return Joined(folder, found, sheets(folder, record, found, on, why), on)


def _with_gathered(folder: Folder, engine: str, jobs: Sequence[str]) -> Sequence[str]:
    """The jobs named, and what they gather for this engine's type."""
    record = folder.engines.get(engine)
    if record is None or record.engine.model not in folder.models:
        return jobs
    model = folder.models[record.engine.model].value
    named = [job.value for job in jobs_named(folder, jobs)]
    gathered = [name for job in named for name in job.gathers if folder.fits(name, model)]
    return list(dict.fromkeys((*(job.procedure for job in named), *gathered)))
