"""Which jobs on which engines a command is about: those named, or all that is due."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Faulty, Folder, Read
from docgen.club.problem import Problem, listing
from docgen.club.schema.procedure import Procedure
from docgen.club.translation import spoken
from docgen.club.words import Words
from docgen.desk.choosing import Unclear, Unprinted, engines_named, jobs_named
from docgen.desk.findings import proofed_before
from docgen.job.job import Job
from docgen.job.resolve import resolve
from docgen.plan.due import DUE, IN_DATE, OVERDUE, DueLine, due_list
from docgen.proof import Seen, proof_job

MEND = "Mend the faults, or print with --unproofed and have the sheet say so."
Say = Callable[[str], None]
"""Takes what is said on the way: what is left out, and why."""


@dataclass(frozen=True)
class Wanted:
    """One job on one engine, why it is printed, and the faults that proofing finds in it."""

    record: EngineRecord
    procedure: Read[Procedure]
    why: str = ""
    faults: tuple[Problem, ...] = ()

    def job(self, folder: Folder, on: date) -> Job:
        """What is printed."""
        return resolve(folder, self.record, self.procedure, on, why_due=self.why, unproofed=len(self.faults))

    @property
    def name(self) -> str:
        """Its engine and its code: ``017 CLU``."""
        return f"{self.record.engine.engine} {self.procedure.value.code}"


def wanted_jobs(
    folder: Folder, engines: Sequence[str], jobs: Sequence[str], on: date, *, only_due: bool = False, say: Say
) -> list[Wanted]:
    """What is done: the jobs named, or all that is due; on the engines named, or on all.

    only_due : of the jobs named, those that are due
    Errors: Faulty where a file that it needs has faults; Unclear.
    """
    records = engines_named(folder, engines) or list(folder.engines.values())
    named = jobs_named(folder, jobs)
    records = _sound(folder, records, [one.value.procedure for one in named], bool(engines), say)
    if not named:
        some = [job for record in records for job in folder.for_model(folder.models[record.engine.model].value)]
        if (unread := _unread(folder)) and not some:
            raise Faulty(unread)
        if unread:
            say(listing(unread))
    with proofed_before(folder.root) as seen:
        wanted = list(_wanted(folder, records, named, bool(engines), only_due, on, seen, say))
    return wanted if named else _without_parts(wanted, say)


def printable(wanted: Sequence[Wanted], *, asked: bool, unproofed: bool, say: Say) -> tuple[list[Wanted], str]:
    """What is printed of it, and what is to be said of jobs that are left out since proofing finds faults in them.

    asked     : whether engines were named: then none is left out without the others
    unproofed : whether to print them all the same
    Errors: Unprinted where nothing is left.
    """
    for want in wanted:
        if want.procedure.value.gathers:
            engine, _, code = want.name.partition(" ")
            say(f"{code} gathers other jobs: docgen visit {engine} --job {code} prints them as one.")
    if faults := listing(sorted({problem for want in wanted for problem in want.faults})):
        say(faults)
    if not faults or unproofed:
        return list(wanted), ""
    sound = [] if asked else [want for want in wanted if not want.faults]
    if not sound:
        raise Unprinted((), MEND)
    return sound, f"Not printed: {', '.join(want.name for want in wanted if want.faults)}. {MEND}"


def _wanted(
    folder: Folder, records: list[EngineRecord], named: list[Read[Procedure]], asked: bool, only_due: bool, on: date,
    seen: Seen, say: Say,
) -> Iterator[Wanted]:  # fmt: skip
    lines = {(line.engine, line.job): line for line in due_list(folder, on) if line.job}
    words = Words.speaking(folder.club.value.language if folder.club_file else ENGLISH)
    judged = spoken(folder, ENGLISH)
    for record in records:
        model = folder.models[record.engine.model].value
        for procedure in named or _readable(folder, record, say):
            line = lines.get((record.engine.engine, procedure.value.procedure))
            pressing = line is not None and line.state in (OVERDUE, DUE)
            fits = folder.fits(procedure.value.procedure, model)
            if fits and (pressing or (named and not only_due)):
                faults = _faults(judged, procedure, record, on, seen)
                yield Wanted(record, procedure, _why(line, words), faults)
            elif named and asked and not fits:
                name = procedure.value.procedure
                raise Unclear(f"{name} is not for {model.title}: {folder.why_not(name, model)}")


def _unread(folder: Folder) -> list[Problem]:
    """The errors of the jobs whose files cannot be read: nobody can tell whether they are due."""
    unread = {path for path in folder.broken if path.startswith("procedures/")}
    return [problem for problem in folder.problems if problem.level == "error" and problem.path in unread]


def _sound(
    folder: Folder, records: list[EngineRecord], named: list[str], asked: bool, say: Say
) -> list[EngineRecord]:
    """The engines for which something can be done; others with faults are named and left out.

    Errors: Faulty where one that was asked for has faults, or all have.
    """
    stopped = {one.engine.engine: folder.blocking(one.engine.engine, named) for one in records}
    problems = sorted({problem for found in stopped.values() for problem in found})
    sound = [one for one in records if not stopped[one.engine.engine]]
    unread = {} if asked else _unread_engines(folder)
    problems = sorted({*problems, *(problem for found in unread.values() for problem in found)})
    if problems and (asked or not sound):
        raise Faulty(problems)
    if problems:
        say(listing(problems))
        left = ", ".join(sorted({*unread, *(one.engine.engine for one in records if one not in sound)}))
        say(f"Left out, since files that they need have errors: {left}.")
    return sound


def _unread_engines(folder: Folder) -> dict[str, list[Problem]]:
    """The errors of the engines whose own files cannot be read, by number: such an engine is not in the folder."""
    found: dict[str, list[Problem]] = {}
    for problem in folder.problems:
        place, _, rest = problem.path.partition("/")
        number = rest.partition("/")[0]
        if problem.level == "error" and place == "engines" and number and number not in folder.engines:
            found.setdefault(number, []).append(problem)
    return found


def _readable(folder: Folder, record: EngineRecord, say: Say) -> Iterator[Read[Procedure]]:
    """The jobs of an engine's type whose files have no error; one that has is named and left out."""
    for procedure in folder.for_model(folder.models[record.engine.model].value):
        name = procedure.procedure
        if folder.blocking(record.engine.engine, [name]):
            say(f"{name} is left out, since its files have errors: docgen proof {name}")
        else:
            yield folder.procedures[name]


def _without_parts(wanted: list[Wanted], say: Say) -> list[Wanted]:
    """Leave out each job that a larger one on the same engine contains, and say so: nobody does it twice."""
    kept = []
    for one in wanted:
        name, engine = one.procedure.value.procedure, one.record.engine.engine
        larger = [w for w in wanted if w.record is one.record and name in w.procedure.value.covers]
        if larger:
            title, whole = one.procedure.value.title, larger[0].procedure.value.title
            say(f"Engine {engine}: {title} is part of {whole}, and not printed by itself.")
        else:
            kept.append(one)
    return kept


def _faults(
    folder: Folder, procedure: Read[Procedure], record: EngineRecord, on: date, seen: Seen
) -> tuple[Problem, ...]:
    """The errors that proofing finds in the job on the very engine; its notes belong to `docgen proof`."""
    return tuple(p for p in proof_job(folder, procedure, record, on, seen) if p.level == "error")


def _why(line: DueLine | None, w: Words) -> str:
    if line is None or not line.reasons:
        return ""
    told = f"{w(line.state)}: {'; '.join(line.reasons)}"
    if not line.before or line.state == IN_DATE:
        return told
    return w("{reasons}; before {round}", reasons=told, round=line.before)
