"""Silences: a rule put to rest for one step, or one item of a model, with a reason that the report prints."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from docgen.club.folder import Read
from docgen.club.schema.model import Model
from docgen.club.schema.procedure import Procedure, Sequence
from docgen.club.yamldoc import Document, Loc
from docgen.job.expand import own_steps
from docgen.proof.finding import Finding

Text: TypeAlias = Read[Procedure] | Read[Sequence]
"""A file with steps."""


@dataclass(frozen=True)
class Silence:
    """One entry of the `silences` of a step, of an item of a model, or of the model itself (`place` is empty)."""

    document: Document
    place: Loc
    rule: str
    reason: str

    @property
    def of_model(self) -> bool:
        """Whether it stands in a model, whose items all are looked at."""
        return self.document.path.startswith("models/")

    @property
    def loc(self) -> Loc:
        """Where it stands."""
        return (*self.place, "silences", self.rule)

    def covers(self, rule: str, finding: Finding) -> bool:
        """Whether it puts this finding to rest."""
        same = self.document.path == finding.document.path and finding.loc[: len(self.place)] == self.place
        return same and rule == self.rule


@dataclass(frozen=True)
class Silences:
    """The silences that silenced nothing, and the rules that there are."""

    idle: tuple[Silence, ...]
    rules: frozenset[str]


def silences(file: Text) -> Iterator[Silence]:
    """Every silence in a file's own steps."""
    for loc, step in own_steps(file.value):
        for rule, reason in step.silences.items():
            yield Silence(file.document, loc, rule, reason)


def silences_of(read: Read[Model]) -> Iterator[Silence]:
    """Every silence in a model: its own, and those of its parts, fasteners, limits and settings."""
    model, document = read.value, read.document
    for rule, reason in model.silences.items():
        yield Silence(document, (), rule, reason)
    for group in ("parts", "fasteners", "limits", "settings"):
        for name, item in getattr(model, group).items():
            for rule, reason in item.silences.items():
                yield Silence(document, (group, name), rule, reason)
