"""Every rule over every job: findings gathered, one for each cause, silences heard."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from docgen.club.catalogue import ENGLISH
from docgen.club.folder import EngineRecord, Folder, Read
from docgen.club.problem import Level, Problem
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.translation import spoken
from docgen.club.yamldoc import Document, Loc
from docgen.job.expand import expand, messages, used
from docgen.job.figures import Figures
from docgen.job.state import EngineState, state_of
from docgen.proof.finding import Finding
from docgen.proof.releases import Release
from docgen.proof.silence import Silence, Silences, Text, silences, silences_of

if TYPE_CHECKING:  # of what was proofed before, nothing is carried out and no rule is loaded
    from docgen.proof.case import Case, Owned, Typed, Written
    from docgen.proof.rulebook import Scope

Findings = list[tuple[str, Level, Finding]]
"""What rules found, each with the rule's name and level."""
Seen = dict[str, list[Any]]
"""What the rules found, as plain data, by a digest over all that they were given to look at; what was asked for last is
at the end. It holds for one program alone."""
NO_RECORD = EngineState(Fraction(0), False, "", date.min, {}, {})


def proof_all(
    folder: Folder,
    on: date | None = None,
    only: Collection[str] | None = None,
    released: Mapping[str, Release] | None = None,
    seen: Seen | None = None,
) -> list[Problem]:
    """What every rule finds, for each procedure (or those named in `only`) on each engine type that it applies to.

    `on` is the day for the rules that need one; `released` what was released last, by name; `seen` what was found
    before, to which is added what is found now. A job is not simulated while its procedure, a sequence of it or the
    model has errors of reading: those stand in `folder.problems`.
    Pure but for `seen`; sorted by place.
    """
    if folder.club_file is None:
        return []
    folder = spoken(folder, ENGLISH)
    proof = _Proof(folder, {} if seen is None else seen)
    chosen = [read for name, read in sorted(folder.procedures.items()) if only is None or name in only]
    names = {name for read in chosen for name in used(read.value)}
    sequences = [read for name, read in sorted(folder.sequences.items()) if only is None or name in names]
    models = [folder.models[name] for name in sorted(folder.models)]
    faulty = {p.path for p in folder.problems if p.level == "error"}
    proof.written([*chosen, *sequences], released or {})
    simulated: set[str] = set()
    optional = [_in_all(read.value, (model.value for model in models)) for read in chosen]
    for model in models:
        figures = Figures(folder.club.value, model.value, NO_RECORD)
        proof.typed(model)
        for read, without in zip(chosen, optional, strict=True):
            if _sound(read, model, folder, faulty):
                simulated.add(read.document.path)
                proof.simulated(read, figures, on, without)
    for _, record in sorted(folder.engines.items()) if only is None else ():
        if record.engine.model in folder.models and on is not None:
            proof.owned(record, on)
    heard = [read.document for read in chosen if read.document.path in simulated]
    if only is None and simulated == {read.document.path for read in chosen}:
        heard += [read.document for read in sequences]
    heard += [model.document for model in models if not faulty]
    return proof.report(heard)


def proof_job(
    folder: Folder, procedure: Read[Procedure], record: EngineRecord, on: date, seen: Seen | None = None
) -> list[Problem]:
    """What every rule finds for one job on the very engine, its deviations included, on the day `on`.

    The rules about words know English; whoever proofs many jobs turns the folder to it once (:func:`spoken`).

    seen : what was found before, as for other engines: most are alike, and are looked at once
    """
    if folder.club_file is None or record.engine.model not in folder.models:
        return []
    folder = spoken(folder, ENGLISH)
    procedure = folder.procedures.get(procedure.value.procedure, procedure)
    proof = _Proof(folder, {} if seen is None else seen)
    proof.written([procedure, *_parts(folder, procedure.value).values()], {})
    proof.typed(folder.models[record.engine.model])
    proof.simulated(procedure, proof.owned(record, on), on)
    return proof.report([])


def _parts(folder: Folder, *files: Procedure | Sequence) -> dict[str, Read[Sequence]]:
    """The sequences that files use."""
    names = dict.fromkeys(name for one in files if isinstance(one, Procedure) for name in used(one))
    return {name: folder.sequences[name] for name in names if name in folder.sequences}


def _sound(read: Read[Procedure], model: Read[Model], folder: Folder, faulty: Collection[str]) -> bool:
    parts = _parts(folder, read.value).values()
    paths = {read.document.path, model.document.path, *(part.document.path for part in parts)}
    return folder.fits(read.value.procedure, model.value) and not paths & set(faulty)


def _in_all(procedure: Procedure, models: Iterable[Model]) -> frozenset[str]:
    """The equipment that every engine type has to which the job applies, beyond what the job needs.

    A type without a piece of equipment shows by itself how the job goes there; for these, no type does.
    """
    needs = set(procedure.needs)
    having = [set(model.equipment) for model in models if needs <= set(model.equipment)]
    return frozenset(set.intersection(*having) - needs) if having else frozenset()


class _Held(Protocol):
    """What stands in a file."""

    @property
    def document(self) -> Document: ...


class Job(NamedTuple):
    """A procedure on an engine type, by their names."""

    procedure: str
    model: str


@dataclass
class _Found:
    """One cause, and the jobs that it was met in."""

    rule: str
    level: Level
    finding: Finding
    jobs: set[Job] = field(default_factory=set)


@dataclass
class _Proof:
    """Findings as they come in, each cause once. A rule is given what is in the digest of what it saw, and no more."""

    folder: Folder
    seen: Seen
    found: dict[tuple[str, int, int, str], _Found] = field(default_factory=dict)
    tried: dict[Job, tuple[Read[Procedure], Model]] = field(default_factory=dict)
    silences: list[Silence] = field(default_factory=list)

    def written(self, files: Iterable[Text], released: Mapping[str, Release]) -> None:
        for file in files:
            self.silences += silences(file)
            self._written(file, released)

    def _written(self, file: Text, released: Mapping[str, Release]) -> None:
        value, folder = file.value, self.folder
        name, covers = (value.procedure, value.covers) if isinstance(value, Procedure) else (value.sequence, ())
        jobs = {one: folder.procedures[one] for one in covers if one in folder.procedures}
        parts, release = _parts(folder, value, *(one.value for one in jobs.values())), released.get(name)

        def written() -> Written:
            from docgen.proof.case import Written

            return Written(value, file.document, folder.club, parts, jobs, release)

        self._look("on_steps", [file, *parts.values(), *jobs.values(), folder.club], f"{release}", written)

    def typed(self, model: Read[Model]) -> None:
        self.silences += silences_of(model)
        others = tuple(read for name, read in self._models() if name != model.value.model)

        def typed() -> Typed:
            from docgen.proof.case import Typed

            return Typed(model, self.folder.club, others)

        self._look("on_model", [model, *others, self.folder.club], "", typed)

    def owned(self, record: EngineRecord, on: date) -> Figures:
        """The engine's figures, which are looked at."""
        model = self.folder.models[record.engine.model]
        figures = Figures(self.folder.club.value, model.value, state_of(record, on))

        def owned() -> Owned:
            from docgen.proof.case import Owned

            return Owned(record, model, figures)

        self._look("on_engine", [record, *record.log.entries, model, self.folder.club], f"{on}", owned)
        return figures

    def simulated(
        self, read: Read[Procedure], figures: Figures, on: date | None, optional: frozenset[str] = frozenset()
    ) -> None:
        job, folder = Job(read.value.procedure, figures.model.model), self.folder
        self.tried[job] = (read, figures.model)
        parts, models = _parts(folder, read.value), self._models()
        deviations = figures.state.deviations

        def case() -> Case:
            from docgen.club.bench.graph import Graph
            from docgen.job.simulate import simulate
            from docgen.proof.case import Case

            model = folder.models[job.model]
            graph = Graph(model.value, [one.item for one in deviations if one.left_out])
            run = simulate(expand(read, parts, model.value), graph, model.value.limits)
            said = messages(read, parts, model.value)
            others = tuple(other.value for name, other in models if name != job.model)
            return Case(read, model, folder.club, run, figures, said, parts, on, optional, others)

        about = f"{job.model} {sorted(optional)} {deviations} {on}"
        self._look("on_run", [read, *parts.values(), *(one for _, one in models), folder.club], about, case, job)

    def _models(self) -> list[tuple[str, Read[Model]]]:
        return sorted(self.folder.models.items(), key=lambda one: one[0])

    def _look(
        self, scope: Scope, files: Iterable[_Held], about: str, subject: Callable[[], object], job: Job | None = None
    ) -> None:
        """Take what the rules find in a subject, made of files, the first of them its own, and of what `about` says."""
        documents = {one.document.path: one.document for one in files}
        key = looked_at(scope, about, documents.values())
        rows = self.seen.pop(key, None)
        if rows is None:
            rows = [
                [rule, level, one.document.path, one.loc, one.message, one.hint, one.trail, one.key]
                for rule, level, one in _findings(scope, subject())
            ]
        self.seen[key] = rows
        for rule, level, path, loc, message, hint, trail, at_key in rows:
            finding = Finding(documents[path], tuple(loc), message, hint, tuple(trail), at_key)
            place = finding.document.key_at if finding.key else finding.document.at
            at = (path, *place(finding.loc), rule)
            one = self.found.setdefault(at, _Found(rule, level, finding))
            if job is not None:
                one.jobs.add(job)

    def report(self, heard: Iterable[Document]) -> list[Problem]:
        """All findings as problems; silences in the files `heard` are held to have silenced something.

        Not those in a step that no engine type of the club gets.
        """
        busy: set[tuple[str, Loc]] = set()
        problems: list[Problem] = []
        for one in self.found.values():
            covering = [s for s in self.silences if s.covers(one.rule, one.finding)]
            busy |= {(s.document.path, s.loc) for s in covering}
            trail = (*self._met(one), *(f"silenced here: {s.reason}" for s in covering))
            problems.append(one.finding.problem(one.rule, "note" if covering else one.level, trail))
        paths = {document.path for document in heard}
        idle = [s for s in self.silences if s.document.path in paths and (s.document.path, s.loc) not in busy]
        return sorted([*problems, *(self._of_nothing(idle) if idle else ())])

    def _of_nothing(self, idle: list[Silence]) -> Iterator[Problem]:
        from docgen.proof.rulebook import rulebook

        rules = frozenset(rule.name for rule in rulebook())
        given = (expand(read, self.folder.sequences, model) for read, model in self.tried.values())
        reached = {(one.document.path, one.loc) for steps in given for one in steps}
        reached |= {(one.document.path, one.place) for one in self.silences if one.of_model}
        left = [one for one in idle if one.rule not in rules or (one.document.path, one.place) in reached]
        for name, level, finding in _findings("on_silences", Silences(tuple(left), rules)):
            yield finding.problem(name, level)

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
    from docgen.proof.rulebook import rules_on

    return [(rule.name, rule.level, finding) for rule in rules_on(scope) for finding in rule.check(subject)]


def looked_at(what: str, about: str, documents: Iterable[Document]) -> str:
    """The digest by which it is kept what was found in documents."""
    return hashlib.sha256("\n".join([what, about, *(one.stamp for one in documents)]).encode()).hexdigest()


def _few(names: list[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
