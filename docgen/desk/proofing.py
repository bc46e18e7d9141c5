"""Proofing jobs, on every engine type or on one engine, and releasing what proofs clean."""

from collections.abc import Iterator
from collections.abc import Sequence as Several
from dataclasses import dataclass
from datetime import date

from docgen.club.content import content_digest
from docgen.club.fitting import NOT_FITTING, not_fitting
from docgen.club.folder import EngineRecord, Faulty, Folder, Read
from docgen.club.problem import Problem
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.sidefiles import read_glossary
from docgen.club.store import replace
from docgen.club.uses import applies
from docgen.desk.choosing import engines_named, fitting, jobs_named
from docgen.desk.clock import today
from docgen.desk.findings import proofed_before
from docgen.job.expand import used
from docgen.proof import Seen, proof_all, proof_job
from docgen.proof.proofing import looked_at
from docgen.proof.releases import FILE, Release, read_released, released_text


@dataclass(frozen=True)
class Proofed:
    """What was found, how many jobs were proofed, and the files of engine types that could not be read.

    blind : torques that no rule can check in full, where all jobs were proofed on all types
    """

    problems: list[Problem]
    jobs: int
    unread: list[str]
    blind: int


def proofed(folder: Folder, names: Several[str] = (), on: date | None = None, engine: str = "") -> Proofed:
    """Proof the jobs named, or all; on every engine type that they are for, or on an engine with its deviations.

    on : the day, for calibration dates; None for none, and for today on an engine
    Errors: Faulty, Unclear.
    """
    chosen = jobs_named(folder, names)
    with proofed_before(folder.root) as seen:
        if engine:
            (record,) = engines_named(folder, [engine])
            chosen = _for_engine(folder, chosen, record)
            problems = [one for read in chosen for one in proof_job(folder, read, record, on or today(), seen)]
        else:
            problems = _for_types(folder, chosen, on, seen)
            chosen = chosen or list(folder.procedures.values())
        blind = 0 if names else _unchecked(folder, seen)
    found = sorted({*_of_interest(folder, chosen if names else []), *problems})
    unread = sorted(path for path in folder.broken if path.startswith("models/"))
    return Proofed(found, len(chosen), unread, blind)


def _unchecked(folder: Folder, seen: Seen) -> int:
    key = looked_at("unchecked", "", [read.document for _, read in sorted(folder.models.items())])
    if key not in seen:
        from docgen.proof.gaps import unchecked

        seen[key] = [str(one) for one in unchecked(folder)]
    return len(seen[key])


def _for_types(folder: Folder, chosen: list[Read[Procedure]], on: date | None, seen: Seen) -> list[Problem]:
    releases, problems = read_released(folder.root)
    _, misread = read_glossary(folder)
    only = {read.value.procedure for read in chosen} or None
    return problems + misread + proof_all(folder, on, only, releases, seen)


def _of_interest(folder: Folder, chosen: list[Read[Procedure]]) -> Iterator[Problem]:
    """What reading found in the files that the chosen jobs need, or in all where none was chosen."""
    if not chosen:
        yield from folder.problems
        return
    names = [read.value.procedure for read in chosen]
    models = [name for name, read in folder.models.items() if any(applies(one.value, read.value) for one in chosen)]
    for model in models:
        if note := not_fitting(folder, model, names):
            yield note
    wanted = folder.files_of(names) | {f"models/{name}.yaml" for name in models} | {"club.yaml"}
    yield from (one for one in folder.problems if one.path in wanted and one.name != NOT_FITTING)


def _for_engine(folder: Folder, chosen: list[Read[Procedure]], record: EngineRecord) -> list[Read[Procedure]]:
    """The jobs chosen, or all that are for the engine's type; none while its type cannot be read."""
    if record.engine.model not in folder.models:
        return []
    fitting(folder, chosen, record.engine.model)
    model = folder.models[record.engine.model].value
    return chosen or [folder.procedures[one.procedure] for one in folder.for_model(model)]


def released(folder: Folder, names: Several[str] = ()) -> list[Release]:
    """Note revision and digest of the jobs named, or of all, with the sequences that they use; what is new of it.

    Errors: Faulty where one does not proof clean, and then nothing is noted; StoreError.
    """
    chosen = {read.value.procedure for read in jobs_named(folder, names)} or set(folder.procedures)
    releases, problems = read_released(folder.root)
    problems += [p for p in folder.problems if p.path.startswith(("club.yaml", "procedures/", "models/"))]
    problems += proof_all(folder, only=chosen, released=releases)
    if errors := sorted({problem for problem in problems if problem.level == "error"}):
        raise Faulty(errors)
    new = [one for one in _releases(folder, chosen) if releases.get(one.name) != one]
    if new:
        replace(folder.root / FILE, released_text(releases, new).encode())
    return new


def _releases(folder: Folder, chosen: set[str]) -> list[Release]:
    reads: dict[str, Read[Procedure] | Read[Sequence]] = {name: folder.procedures[name] for name in chosen}
    reads |= {part: folder.sequences[part] for name in chosen for part in used(folder.procedures[name].value)}
    return [Release(name, one.value.revision, content_digest(one.document)) for name, one in sorted(reads.items())]
