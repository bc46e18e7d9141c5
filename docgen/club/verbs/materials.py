"""``cleans`` and ``applies``: what a material is used on; neither moves anything."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field

from docgen.club.bench.bench import Bench
from docgen.club.schema.base import AnyQuantity, MaterialName, Members, Name, Strict, spread
from docgen.club.schema.editors import Reads, Shape, or_its
from docgen.club.verbs.verb import Named, Resolve, Verb

if TYPE_CHECKING:
    from docgen.club.schema.procedure import Step


class Amount(Strict):
    """Material put on: ``to`` what (nothing of the engine where it is used beside it), how much where it is known."""

    to: Members = ()
    amount: AnyQuantity | None = None


class CleanWith(Strict):
    """What it is cleaned with; nothing where it is wiped, brushed or blown clean."""

    material: MaterialName | None = Field(default=None, alias="with")
    amount: AnyQuantity | None = None


class Cleaning(Verb):
    """``cleans``: by the thing that is cleaned."""

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Write it down."""
        for part, clean in step.cleans.items():
            bench.note(self.key, [part], part, clean.material or "")


class Applying(Verb):
    """``applies``: by the material."""

    def names(self, step: Step) -> Iterator[Named]:
        """What it goes onto."""
        return (Named((material,), name) for material, use in step.applies.items() for name in use.to)

    def first(self, step: Step) -> str:
        """The first material."""
        return next(iter(step.applies))

    def carry_out(self, step: Step, bench: Bench) -> None:
        """Write it down."""
        for material, use in step.applies.items():
            bench.note(self.key, use.to, material, material)


def _applied(value: Any) -> Any:
    return value if isinstance(value, dict) else {"to": value}


def _cleaned(value: Any) -> Any:
    if isinstance(value, str) or (isinstance(value, list) and all(isinstance(name, str) for name in value)):
        return {name: {} for name in ([value] if isinstance(value, str) else value)}
    return value


def _or_names(mapping: Shape, resolve: Resolve) -> Shape:
    name = mapping.get("propertyNames", {"type": "string"})
    return {"anyOf": [name, {"type": "array", "items": name}, mapping]}


Cleans = Annotated[
    dict[Name, Annotated[CleanWith, spread("with")]], Reads(_cleaned, _or_names), Field(default_factory=dict),
    Cleaning(
        "cleans", "What is cleaned, and with which material, as in {clutch-drum: brake-cleaner}; a list of what is only"
        " wiped, brushed or blown.",
        defined="items", word="clean", turn=5, works=True, handles=True, counted=True, printed=True,
        happened="{name} {was} cleaned with {with_}", done="cleaned",
    ),
]  # fmt: skip
Applies = Annotated[
    dict[MaterialName, Annotated[Amount, Reads(_applied, or_its("to"))]], Field(default_factory=dict),
    Applying(
        "applies", "Which material goes onto what, as in {bearing-grease: drum-bearing}.",
        defined="items", word="apply", turn=6, handles=True, printed=True,
        happened="{name} {was} given {with_}", done="greased",
    ),
]  # fmt: skip
