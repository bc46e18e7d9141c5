"""Silences: a rule put to rest for one step, with a reason that the report prints."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from docgen.club.yamldoc import Document, Loc
from docgen.proof.case import Written
from docgen.proof.finding import Finding


@dataclass(frozen=True)
class Silence:
    """One entry of a step's `silences`."""

    document: Document
    step: Loc
    rule: str
    reason: str

    @property
    def loc(self) -> Loc:
        """Where it stands."""
        return (*self.step, "silences", self.rule)

    def covers(self, rule: str, finding: Finding) -> bool:
        """Whether it puts this finding to rest."""
        same = self.document.path == finding.document.path and finding.loc[: len(self.step)] == self.step
        return same and rule == self.rule


@dataclass(frozen=True)
class Silences:
    """The silences that silenced nothing, and the rules that there are."""

    idle: tuple[Silence, ...]
    rules: frozenset[str]


def silences(files: Iterable[Written]) -> Iterator[Silence]:
    """Every silence in some files."""
    for file in files:
        for loc, step in file.steps:
            for rule, reason in step.silences.items():
                yield Silence(file.document, loc, rule, reason)
