"""``measure`` and ``look``: checks with an acceptance, and what is done where they fail."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any

from docgen.club.schema.base import Members, Name, Names, Strict, one_of
from docgen.club.schema.editors import Reads, or_its
from docgen.club.schema.model import Fail, FailText
from docgen.club.schema.prose import Prose
from docgen.club.verbs.verb import Named, Verb

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step

SIGHTS = ("drum-heat", "sprocket-teeth", "needle-track", "shoe-lining", "plug-face", "petal-edges")
"""Drawings of what is good and what damage looks like."""


class Look(Strict):
    """An inspection by eye or hand with an acceptance that can be seen."""

    id: Name
    of: Members = ()
    accept: Prose
    picture: Annotated[str, one_of(*SIGHTS)] | None = None
    fail: FailText | None = None


class Measure(Strict):
    """A reading taken against the model's limit."""

    of: Names
    fail: FailText | None = None


class Checking(Verb):
    """A verb whose names stand under ``of``, and which says what is done where it fails."""

    def names(self, step: Step) -> Iterator[Named]:
        """What is measured or looked at."""
        said: Look | Measure | None = self.of(step)
        return (Named(("of", at), name) for at, name in enumerate(said.of if said else ()))

    def fail(self, step: Step) -> Fail | None:
        """What is done where it fails."""
        said: Look | Measure | None = self.of(step)
        return said.fail if said else None


def _measured(value: Any) -> Any:
    return value if isinstance(value, dict) else {"of": value}


Measures = Annotated[Annotated[Measure, Reads(_measured, or_its("of"))] | None, Checking(
    "measure", "A reading against the model's limit; accept range, gauge and last readings follow by themselves.",
    defined="limits", word="measure", handles=True, printed=True, of_shop=True, signed="names",
)]  # fmt: skip
Looks = Annotated[Look | None, Checking(
    "look", "An inspection by eye or hand, with what is good enough and what to do when it is not.",
    defined="items", of_shop=True, signed="step",
)]  # fmt: skip
