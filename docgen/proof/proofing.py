"""Every rule over every job: findings gathered, one for each cause, silences heard."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import partial
from pathlib import PurePosixPath
from typing import NamedTuple

from docgen.club.bench.graph import Graph
from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.club import Club
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.spoken import spoken
from docgen.club.yamldoc import Document, Loc
from docgen.job.expand import expand, messages, used
from docgen.job.figures import Figures
from docgen.job.simulate import simulate
from docgen.job.state import EngineState, state_of
from docgen.proof.case import Case, Finding, Owned, Typed, Written
from docgen.proof.releases import Release
from docgen.proof.rulebook import Rule, Scope, rulebook, rules_on
from docgen.proof.silence import Silence, Silences, silences, silences_of
from docgen.proof.ways import in_all

Findings = list[tuple[Rule, Finding]]
Seen = dict[tuple[str, ...], Findings]
"""What the rules found in a file, a model or a job, by its name; for an engine, by its deviations and the day too."""
NO_RECORD = EngineState(Fraction(0), False, "", date.min, {}, {})


def proof_all(
    folder: Folder,
    on: date | None = None,
    only: Collection[str] | None = None,
    released: Mapping[str, Release] | None = None,
) -> list[Problem]:
    """What every rule finds, for each procedure (or those named in `only`) on each engine type that it applies to.

    `on` is the day for the rules that need one; `released` what was released last, by name. A job is not
    simulated while its procedure, a sequence of it or the model has errors of reading: those stand in
    `folder.problems`.
    Pure; sorted by place.
    """
    if folder.club_file is None:
        return []
    folder = spoken(folder, ENGLISH)
    proof = _Proof(folder.club)
    chosen = [read for name, read in sorted(folder.procedures.items()) if only is None or name in only]
    names = {name for read in chosen for name in used(read.value)}
    sequences = [read for name, read in sorted(folder.sequences.items()) if only is None or name in names]
    files = _files(folder, chosen, sequences, released or {})
    models = [folder.models[name] for name in sorted(folder.models)]
    faulty = {p.path for p in folder.problems if p.level == "error"}
    proof.written(files)
    simulated: set[str] = set()
    optional = [in_all(read.value, (model.value for model in models)) for read in chosen]
    for model in models:
        graph = Graph(model.value)
        figures = Figures(folder.club.value, model.value, NO_RECORD)
        typed = _typed(folder, model)
        proof.typed(typed)
        for read, without in zip(chosen, optional, strict=True):
            if _sound(read, model, folder, faulty):
                simulated.add(read.document.path)
                proof.simulated(_case(folder, read, typed, graph, figures, on, without))
    for _, record in sorted(folder.engines.items()) if only is None else ():
        if record.engine.model in folder.models and on is not None:
            proof.owned(_owned(folder, record, on))
    heard = [file.document for file in files if isinstance(file.value, Procedure) and file.document.path in simulated]
    if only is None and simulated == {read.document.path for read in chosen}:
        heard = [file.document for file in files]
    heard += [model.document for model in models if not faulty]
    return proof.report(heard)


def proof_job(
    folder: Folder, procedure: Read[Procedure], record: EngineRecord, on: date, seen: Seen | None = None
) -> list[Problem]:
    """What every rule finds for one job on the very engine, its deviations included, on the day `on`.

    The rules about words know English; whoever proofs many jobs turns the folder to it once (:func:`spoken`).

    seen : what was found for other engines of this very folder: most are alike, and are looked at once
    """
    if folder.club_file is None or record.engine.model not in folder.models:
        return []
    folder = spoken(folder, ENGLISH)
    procedure = folder.procedures.get(procedure.value.procedure, procedure)
    typed, owned = _typed(folder, folder.models[record.engine.model]), _owned(folder, record, on)
    deviations = owned.figures.state.deviations
    proof = _Proof(folder.club, seen={} if seen is None else seen)
    sequences = [folder.sequences[name] for name in used(procedure.value) if name in folder.sequences]
    proof.written(_files(folder, [procedure], sequences, {}))
    proof.typed(typed)
    proof.owned(owned)

    def findings() -> Findings:
        graph = Graph(typed.model.value, [d.item for d in deviations if d.left_out])
        return _findings("on_run", _case(folder, procedure, typed, graph, owned.figures, on))

    job = Job(procedure.value.procedure, record.engine.model)
    proof.tried.add(job)
    proof.take(("on_run", *job, repr(deviations), f"{on}"), findings, job)
    return proof.report([])


def _files(
    folder: Folder, procedures: list[Read[Procedure]], sequences: list[Read[Sequence]], released: Mapping[str, Release]
) -> list[Written]:
    club, known, all_jobs = folder.club, folder.sequences, folder.procedures
    jobs = [Written(p.value, p.document, club, known, all_jobs, released.get(p.value.procedure)) for p in procedures]
    parts = [Written(s.value, s.document, club, known, all_jobs, released.get(s.value.sequence)) for s in sequences]
    return jobs + parts


def _typed(folder: Folder, model: Read[Model]) -> Typed:
    others = tuple(read for name, read in sorted(folder.models.items()) if name != model.value.model)
    return Typed(model, folder.club, others)


def _sound(read: Read[Procedure], model: Read[Model], folder: Folder, faulty: Collection[str]) -> bool:
    parts: list[Read[Sequence]] = [folder.sequences[n] for n in used(read.value) if n in folder.sequences]
    paths = {read.document.path, model.document.path, *(part.document.path for part in parts)}
    return folder.fits(read.value.procedure, model.value) and not paths & set(faulty)


def _case(
    folder: Folder, read: Read[Procedure], typed: Typed, graph: Graph, figures: Figures, on: date | None,
    optional: frozenset[str] = frozenset(),
) -> Case:  # fmt: skip
    model = typed.model.value
    run = simulate(expand(read, folder.sequences, model), graph, model.limits)
    said, others = messages(read, folder.sequences, model), tuple(other.value for other in typed.others)
    return Case(read, typed.model, folder.club, run, figures, said, folder.sequences, on, optional, others)


def _owned(folder: Folder, record: EngineRecord, on: date) -> Owned:
    model = folder.models[record.engine.model]
    return Owned(record, model, Figures(folder.club.value, model.value, state_of(record, on)))


class Job(NamedTuple):
    """A procedure on an engine type, by their names."""

    procedure: str
    model: str


@dataclass
class _Found:
    """One cause, and the jobs that it was met in."""

    rule: Rule
    finding: Finding
    jobs: set[Job] = field(default_factory=set)


@dataclass
class _Proof:
    """Findings as they come in, each cause once."""

    club: Read[Club]
    found: dict[tuple[str, int, int, str], _Found] = field(default_factory=dict)
    tried: set[Job] = field(default_factory=set)
    silences: list[Silence] = field(default_factory=list)
    reached: set[tuple[str, Loc]] = field(default_factory=set)
    seen: Seen = field(default_factory=dict)

    def written(self, files: Iterable[Written]) -> None:
        for file in files:
            self.silences += silences([file])
            self.take(("on_steps", file.document.path), partial(_findings, "on_steps", file))

    def typed(self, typed: Typed) -> None:
        found = list(silences_of(typed))
        self.silences += found
        self.reached |= {(one.document.path, one.place) for one in found}
        self.take(("on_model", typed.model.document.path), partial(_findings, "on_model", typed))

    def owned(self, owned: Owned) -> None:
        self._keep(_findings("on_engine", owned))

    def simulated(self, case: Case) -> None:
        job = Job(case.procedure.value.procedure, case.model.value.model)
        self.tried.add(job)
        self.reached |= {(placed.document.path, placed.loc) for placed in case.run.steps}
        self._keep(_findings("on_run", case), job)

    def report(self, heard: Iterable[Document]) -> list[Problem]:
        """All findings as problems; silences in the files `heard` are held to have silenced something.

        Not those in a step that no engine type of the club gets.
        """
        busy: set[tuple[str, Loc]] = set()
        problems: list[Problem] = []
        for one in self.found.values():
            covering = [s for s in self.silences if s.covers(one.rule.name, one.finding)]
            busy |= {(s.document.path, s.loc) for s in covering}
            level = "note" if covering else one.rule.level
            trail = (*self._met(one), *(f"silenced here: {s.reason}" for s in covering))
            problems.append(one.finding.problem(one.rule.name, level, trail))
        paths, rules = {document.path for document in heard}, frozenset(rule.name for rule in rulebook())
        idle = tuple(
            s for s in self.silences if (s.document.path, s.loc) not in busy and s.document.path in paths
            and (s.rule not in rules or (s.document.path, s.place) in self.reached)
        )  # fmt: skip
        found = _findings("on_silences", Silences(idle, rules))
        problems += [finding.problem(rule.name, rule.level) for rule, finding in found]
        return sorted(problems)

    def take(self, key: tuple[str, ...], find: Callable[[], Findings], job: Job | None = None) -> None:
        """What is found in something that may have been looked at for another engine."""
        if key not in self.seen:
            self.seen[key] = find()
        self._keep(self.seen[key], job)

    def _keep(self, findings: Findings, job: Job | None = None) -> None:
        for rule, finding in findings:
            place = finding.document.key_at if finding.key else finding.document.at
            at = (finding.document.path, *place(finding.loc), rule.name)
            one = self.found.setdefault(at, _Found(rule, finding))
            if job is not None:
                one.jobs.add(job)

    def _met(self, one: _Found) -> Iterator[str]:
        """Where it was met, as far as the place alone does not tell."""
        stem = PurePosixPath(one.finding.document.path).stem
        procedures = {job.procedure for job in one.jobs}
        elsewhere = sorted(procedures - {stem})
        if elsewhere:
            yield f"met in {_few(elsewhere)}"
        models = {job.model for job in one.jobs}
        tried = {job.model for job in self.tried if job.procedure in procedures}
        if models != tried and models != {stem}:
            yield f"only on {_few(sorted(models))}"


def _findings(scope: Scope, subject: object) -> Findings:
    return [(rule, finding) for rule in rules_on(scope) for finding in rule.check(subject)]


def _few(names: list[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
