"""A changed file, its class, and what proofing says of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from docgen.club.fit import fit
from docgen.club.folder import Folder, Read
from docgen.club.problem import Problem
from docgen.club.references import reference_problems
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.uses import lacking
from docgen.club.yamldoc import Document
from docgen.job.expand import used
from docgen.proof import proof_all

Class = Literal["harmful", "harmless", "untold"]
"""untold: a shorter or differently ordered job, whole in itself; nobody who has only the changed file can tell."""
Kind = Literal["procedures", "sequences", "models"]
SHAPES: Mapping[Kind, Any] = {"procedures": Procedure, "sequences": Sequence, "models": Model}


@dataclass(frozen=True)
class Mutant:
    """One change to one file of the club: which, by what operator, where, and its new data."""

    kind: Kind
    name: str
    operator: str
    where: str
    data: dict[str, Any]
    verdict: Class
    why: str = ""


def changed(folder: Folder, kind: Kind, name: str, data: dict[str, Any]) -> tuple[Folder, list[Problem]]:
    """The club with one file's data replaced, and what fitting the data to its shape says."""
    old: Read[Any] = getattr(folder, kind)[name]
    document = Document(old.document.path, "", data, {}, {})
    value, problems = fit(document, SHAPES[kind])
    if value is None:
        return folder, problems
    files = {**getattr(folder, kind), name: Read(value, document)}
    club = replace(folder, problems=[], **{kind: files})
    club.lacking = lacking(club)
    return club, problems


def affected(folder: Folder, kind: Kind, name: str) -> list[str]:
    """The procedures that a change to a file can touch."""
    if kind == "procedures":
        return [name]
    if kind == "sequences":
        return [p for p, read in sorted(folder.procedures.items()) if name in used(read.value)]
    model = folder.models[name].value
    return [procedure.procedure for procedure in folder.for_model(model)]


def says(folder: Folder, mutant: Mutant, known: Collection[tuple[str, str, str]] = ()) -> list[str]:
    """The names of all findings, notes too, but for what the shipped club already says with a reason: ``known``.

    Findings of reading, of references, of every rule but revision-not-raised; those of the first job that says any.
    """
    club, problems = changed(folder, mutant.kind, mutant.name, mutant.data)
    if problems:
        return [problem.name for problem in problems]
    found = _names(reference_problems(club), known)
    if not found and mutant.kind == "models":
        found = _names(proof_all(club, only=()), known)
    jobs = affected(club, mutant.kind, mutant.name)
    for job in sorted(jobs, key=lambda name: len(club.procedures[name].value.stages)):
        if found:
            break
        found = _names(proof_all(club, only=[job]), known)
    return found


def _names(problems: Iterable[Problem], known: Collection[tuple[str, str, str]]) -> list[str]:
    return sorted({problem.name for problem in problems if _told(problem) not in known})


def told(problems: Iterable[Problem]) -> frozenset[tuple[str, str, str]]:
    """File, name and words of each finding, without its line, which a changed file no longer has."""
    return frozenset(map(_told, problems))


def _told(problem: Problem) -> tuple[str, str, str]:
    return problem.path, problem.name, problem.message
