"""``procedures/*.yaml``: one job, written as steps; or a short sequence that several jobs use by name."""

from __future__ import annotations

import re
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, model_validator

from docgen.club.schema.base import (
    AnyQuantity,
    Day,
    Flag,
    Members,
    Name,
    Names,
    Strict,
    Text,
    Texts,
    Time,
    Whole,
    fault,
    one_of,
    spread,
)
from docgen.club.schema.club import Hazard
from docgen.club.schema.drawing import OwnDrawing
from docgen.club.schema.model import FailText, Interval

ASSEMBLY_VERBS = ("undoes", "removes", "fits", "renews", "starts", "tightens")


def _code(value: Any) -> Any:
    if not isinstance(value, str) or not re.fullmatch(r"[A-Z]{3}", value):
        raise fault("bad-code", f'"{value}" is not a sheet code', "write three capital letters, as in CLU")
    return value


Code = Annotated[str, BeforeValidator(_code)]
SignalWord = Annotated[str, one_of("danger", "warning", "caution", "notice")]


class SafetyMessage(Strict):
    """A message that stands before the first step that meets one of ``hazards`` (or before the step ``at``)."""

    word: SignalWord
    hazards: tuple[Hazard, ...] = ()
    hazard: Text
    consequence: Text
    avoid: Text
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
    material: Name = Field(alias="with")
    amount: AnyQuantity | None = None


class Look(Strict):
    """An inspection by eye or hand with an acceptance that can be seen."""

    id: Name
    accept: Text
    fail: FailText | None = None


class Measure(Strict):
    """A reading taken against the model's limit."""

    of: Names
    fail: FailText | None = None


class Hold(Strict):
    """A point that is not passed without a second pair of eyes (or the preparer's own later re-check)."""

    why: Text
    id: Name | None = None


class Wait(Strict):
    for_: Time = Field(alias="for")
    why: Text | None = None
    cools: Flag = False


class Repeat(Strict):
    """What is repeated: until when, and how often at most."""

    until: Text
    at_most: Whole | None = None


class CardChoice(Strict):
    """Whether the step stands on the short card, against what follows from what it carries; proofing asks for a why."""

    put: Annotated[str, one_of("on", "off")]
    why: Text | None = None


def _applied(value: Any) -> Any:
    return value if isinstance(value, dict) else {"to": value}


def _measured(value: Any) -> Any:
    return value if isinstance(value, dict) else {"of": value}


class Step(Strict):
    """One action at the bench, and what it does to the engine."""

    do: Text | None = None
    use: Name | None = None
    id: Name | None = None
    why: Text | None = None
    only_with: Names = ()
    undoes: Members = ()
    removes: Members = ()
    fits: Members = ()
    renews: Members = ()
    starts: Members = ()
    tightens: Members = ()
    again: Flag = False
    cleans: dict[Name, Annotated[CleanWith, spread("with")]] = Field(default_factory=dict)
    applies: dict[Name, Annotated[Amount, BeforeValidator(_applied)]] = Field(default_factory=dict)
    finds: Names = ()
    sets: Names = ()
    measure: Annotated[Measure, BeforeValidator(_measured)] | None = None
    look: Look | None = None
    hold: Annotated[Hold, spread("why")] | None = None
    wait: Annotated[Wait, spread("for")] | None = None
    repeat: Annotated[Repeat, spread("until")] | None = None
    runs: Flag = False
    makes: tuple[Annotated[str, one_of("heat", "spark")], ...] = ()
    loads: Members = ()
    meets: tuple[Hazard, ...] = ()
    draws: OwnDrawing | None = None
    tools: Names = ()
    takes: Time | None = None
    card: Annotated[CardChoice, spread("put")] | None = None
    silences: dict[Name, Text] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _one_action(self) -> Self:
        if (self.do is None) == (self.use is None):
            raise fault("do-or-use", "a step has a text (do) or uses a sequence (use), one of the two")
        if self.use and self.model_fields_set - {"use", "only_with"}:
            raise fault("use-stands-alone", "a step that uses a sequence says nothing else but only_with")
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
    stage: Text
    only_with: Names = ()
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]


class AfterRun(Strict):
    """A check that is made after the engine has run, and signed then."""

    id: Name
    do: Text
    accept: Text | None = None
    only_with: Names = ()


class Procedure(Strict):
    """A job as a club shares it. ``covers`` names the jobs that it contains: signed, it counts as each of them."""

    procedure: Name
    title: Text
    code: Code
    revision: Whole
    dated: Day
    author: Text | None = None
    licence: Text | None = None
    purpose: Text | None = None
    needs: Names = ()
    every: Interval | None = None
    covers: Names = ()
    before: Texts = ()
    tools: Names = ()
    spares: Members = ()
    safety: tuple[SafetyMessage, ...] = ()
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]
    after_run: tuple[AfterRun, ...] = ()


class Sequence(Strict):
    """A few steps that many jobs share, used by name, one level deep."""

    sequence: Name
    title: Text
    revision: Whole
    dated: Day
    author: Text | None = None
    licence: Text | None = None
    safety: tuple[SafetyMessage, ...] = ()
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
