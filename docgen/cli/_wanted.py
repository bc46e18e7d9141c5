"""Which jobs on which engines a command is about: those named, or all that is due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import click

from docgen.cli.frame import chosen_engines, chosen_jobs, stop
from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.procedure import Procedure
from docgen.club.spoken import spoken
from docgen.job.expand import applies
from docgen.plan.due import DUE, IN_DATE, OVERDUE, DueLine, due_list
from docgen.plan.words import PlanWords
from docgen.proof import proof_job


@dataclass(frozen=True)
class Wanted:
    """One job on one engine, why it is printed, and the faults that proofing finds in it."""

    record: EngineRecord
    procedure: Read[Procedure]
    why: str = ""
    faults: tuple[Problem, ...] = ()


def wanted_jobs(folder: Folder, engines: Sequence[str], jobs: Sequence[str], only_due: bool, on: date) -> list[Wanted]:
    """What to print. Ends with 1 when a file that it needs has faults, with 2 when the words make no sense."""
    records = chosen_engines(folder, engines) or list(folder.engines.values())
    named = chosen_jobs(folder, jobs)
    stopped = {p for r in records for p in folder.blocking(r.engine.engine)} if engines else set(folder.blocking())
    if stopped:
        stop(sorted(stopped))
    lines = {(line.engine, line.job): line for line in due_list(folder, on) if line.job}
    words = PlanWords.speaking(folder.club.value.language if folder.club else ENGLISH)
    judged = spoken(folder, ENGLISH)
    wanted = []
    for record in records:
        model = folder.models[record.engine.model].value
        for procedure in named or [folder.procedures[p.procedure] for p in folder.for_model(model)]:
            line = lines.get((record.engine.engine, procedure.value.procedure))
            pressing = line is not None and line.state in (OVERDUE, DUE)
            if applies(procedure.value, model) and (pressing or (named and not only_due)):
                wanted.append(Wanted(record, procedure, _why(line, words), _faults(judged, procedure, record, on)))
            elif named and engines and not applies(procedure.value, model):
                message = (
                    f"{procedure.value.procedure} is not for {model.title}: it needs {', '.join(procedure.value.needs)}"
                )
                raise click.UsageError(message)
    return wanted if named else _without_parts(wanted)


def _without_parts(wanted: list[Wanted]) -> list[Wanted]:
    """Leave out each job that a larger one on the same engine contains, and say so: nobody does it twice."""
    kept = []
    for one in wanted:
        name, engine = one.procedure.value.procedure, one.record.engine.engine
        larger = [w for w in wanted if w.record is one.record and name in w.procedure.value.covers]
        if larger:
            title, whole = one.procedure.value.title, larger[0].procedure.value.title
            click.echo(f"Engine {engine}: {title} is part of {whole}, and not printed by itself.", err=True)
        else:
            kept.append(one)
    return kept


def _faults(folder: Folder, procedure: Read[Procedure], record: EngineRecord, on: date) -> tuple[Problem, ...]:
    """The errors that proofing finds in the job on the very engine; its notes belong to `docgen proof`."""
    return tuple(p for p in proof_job(folder, procedure, record, on) if p.level == "error")


def _why(line: DueLine | None, w: PlanWords) -> str:
    if line is None or not line.reasons:
        return ""
    told = f"{w.states[line.state]}: {'; '.join(line.reasons)}"
    return w.before_round.format(reasons=told, round=line.before) if line.before and line.state != IN_DATE else told
