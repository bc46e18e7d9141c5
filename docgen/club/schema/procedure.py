"""``procedures/*.yaml``: one job, written as steps; or a short sequence that several jobs use by name."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any, Self

from pydantic import Field, model_validator

from docgen.club.schema.base import (
    AnyQuantity,
    Count,
    Day,
    Flag,
    Member,
    Members,
    Name,
    Names,
    Strict,
    Text,
    Time,
    Whole,
    also,
    fault,
    one_of,
    spread,
)
from docgen.club.schema.club import Hazard
from docgen.club.schema.drawing import OwnDrawing
from docgen.club.schema.model import Crank, FailText, Interval, Silences
from docgen.club.schema.prose import Language, Prose, Proses
from docgen.club.schema.written import Reads, Shape, or_its, pattern

CODE = re.compile(r"[A-Z]{3}")
CODE_HINT = "write three capital letters, as in CLU"
ASSEMBLY_VERBS = ("undoes", "removes", "fits", "renews", "starts", "tightens")


def _code(value: Any) -> Any:
    if not isinstance(value, str) or not CODE.fullmatch(value):
        raise fault("bad-code", f'"{value}" is not a sheet code', CODE_HINT)
    return value


Code = Annotated[str, Reads(_code, pattern(CODE, CODE_HINT))]
SignalWord = Annotated[str, one_of("danger", "warning", "caution", "notice")]


class SafetyMessage(Strict):
    """A message that stands before the first step that meets one of ``hazards`` (or before the step ``at``)."""

    model_config = also(anyOf=[{"required": ["hazards"]}, {"required": ["at"]}])

    word: SignalWord
    hazards: tuple[Hazard, ...] = ()
    hazard: Prose
    consequence: Prose
    avoid: Prose
    line: Prose | None = None
    at: Name | None = None

    @model_validator(mode="after")
    def _tied(self) -> Self:
        if not self.hazards and not self.at:
            raise fault(
                "message-without-place",
                "this message is tied to no hazard and to no step",
                "write hazards: [fuel] or at: the id of a step",
            )
        return self


class Amount(Strict):
    """Material put on: ``to`` what (nothing of the engine where it is used beside it), how much where it is known."""

    to: Members = ()
    amount: AnyQuantity | None = None


class CleanWith(Strict):
    """What it is cleaned with; nothing where it is wiped, brushed or blown clean."""

    material: Name | None = Field(default=None, alias="with")
    amount: AnyQuantity | None = None


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


class Hold(Strict):
    """A point that is not passed without a second pair of eyes (or the preparer's own later re-check)."""

    why: Prose
    id: Name | None = None


class Wait(Strict):
    for_: Time = Field(alias="for")
    why: Prose | None = None
    cools: Flag = False


class Repeat(Strict):
    """What is repeated: until when, and how often at most."""

    until: Prose
    at_most: Count | None = None


_NAMED: list[Any] = [
    {"required": ["id"]},
    {"required": ["look"]},
    {"required": ["hold"], "properties": {"hold": {"required": ["id"], "type": "object"}}},
]
"""The ways in which a step may have a name, as JSON Schema."""


def _applied(value: Any) -> Any:
    return value if isinstance(value, dict) else {"to": value}


def _measured(value: Any) -> Any:
    return value if isinstance(value, dict) else {"of": value}


def _cleaned(value: Any) -> Any:
    if isinstance(value, str) or (isinstance(value, list) and all(isinstance(name, str) for name in value)):
        return {name: {} for name in ([value] if isinstance(value, str) else value)}
    return value


def _or_names(mapping: Shape, resolve: Callable[[Shape], Shape]) -> Shape:
    name = mapping.get("propertyNames", {"type": "string"})
    return {"anyOf": [name, {"type": "array", "items": name}, mapping]}


BESIDE_USE = ("use", "only_with", "row", "adds")
"""What a step that uses a sequence may say."""


class Step(Strict):
    """One action at the bench, and what it does to the engine.

    On the bench leaf, a step with ``row`` begins a row; those behind it stand in that row until the next one begins.
    """

    model_config = also(
        oneOf=[{"required": ["do"]}, {"required": ["use"], "propertyNames": {"enum": [*BESIDE_USE]}}],
        **{"not": {"required": ["row", "adds"]}},
        **{"if": {"anyOf": [{"required": ["hold"]}, {"required": ["repeat"]}]}, "then": {"anyOf": _NAMED}},
    )

    row: Prose | None = None
    adds: Prose | None = None
    do: Prose | None = None
    use: Name | None = None
    id: Name | None = None
    why: Prose | None = None
    only_with: Names = ()
    undoes: Members = ()
    removes: Members = ()
    fits: Members = ()
    renews: Members = ()
    starts: Members = ()
    tightens: Members = ()
    again: Flag = False
    cleans: Annotated[
        dict[Name, Annotated[CleanWith, spread("with")]], Reads(_cleaned, _or_names), Field(default_factory=dict)
    ]
    applies: dict[Name, Annotated[Amount, Reads(_applied, or_its("to"))]] = Field(default_factory=dict)
    finds: Names = ()
    sets: Names = ()
    measure: Annotated[Measure, Reads(_measured, or_its("of"))] | None = None
    look: Look | None = None
    hold: Annotated[Hold, spread("why")] | None = None
    wait: Annotated[Wait, spread("for")] | None = None
    repeat: Annotated[Repeat, spread("until")] | None = None
    packs: dict[Member, Name] = Field(default_factory=dict)
    clears: Members = ()
    drains: Names = ()
    fills: Names = ()
    turns: Members = ()
    crank: Crank | None = None
    seals: Names = ()
    runs: Flag = False
    makes: tuple[Annotated[str, one_of("heat", "spark")], ...] = ()
    loads: Members = ()
    meets: tuple[Hazard, ...] = ()
    draws: OwnDrawing | None = None
    tools: Names = ()
    takes: Time | None = None
    off_leaf: Text | None = None
    silences: Silences

    @model_validator(mode="after")
    def _one_action(self) -> Self:
        if (self.do is None) == (self.use is None):
            raise fault("do-or-use", "a step has a text (do) or uses a sequence (use), one of the two")
        if self.use and self.model_fields_set - {*BESIDE_USE}:
            raise fault("use-stands-alone", "a step that uses a sequence says nothing else but only_with, row or adds")
        if self.row and self.adds:
            raise fault("row-and-adds", "a step begins a row (row) or stands in one (adds), not both")
        if (self.hold or self.repeat) and not self.key:
            raise fault(
                "id-needed",
                "a hold or repeated step needs an id, so that its place on the sheet stays the same",
                "write id: with a short name",
            )
        return self

    @property
    def key(self) -> str | None:
        """The step's own name, if it was given one."""
        named = (self, self.hold, self.look)
        return next((one.id for one in named if one is not None and one.id), None)


class Stage(Strict):
    stage: Prose
    only_with: Names = ()
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]


class AfterRun(Strict):
    """A check that is made after the engine has run, and signed then."""

    id: Name
    do: Prose
    accept: Prose | None = None
    only_with: Names = ()


class Procedure(Strict):
    """A job as a club shares it. ``covers`` names the jobs that it contains: signed, it counts as each of them."""

    procedure: Name
    title: Prose
    code: Code
    revision: Whole
    dated: Day
    author: Text | None = None
    licence: Text | None = None
    language: Language | None = None
    purpose: Prose | None = None
    needs: Names = ()
    every: Interval | None = None
    covers: Names = ()
    before: Proses = ()
    tools: Names = ()
    spares: Members = ()
    safety: tuple[SafetyMessage, ...] = ()
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]
    closing: Annotated[Names, Field(max_length=3)] = ()
    after_run: tuple[AfterRun, ...] = ()


class Sequence(Strict):
    """A few steps that many jobs share, used by name, one level deep."""

    sequence: Name
    title: Prose
    revision: Whole
    dated: Day
    author: Text | None = None
    licence: Text | None = None
    language: Language | None = None
    safety: tuple[SafetyMessage, ...] = ()
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
