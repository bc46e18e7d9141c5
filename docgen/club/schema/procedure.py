"""``procedures/*.yaml``: one job, written as steps; or a short sequence that several jobs use by name."""

import re
from functools import cached_property
from typing import Annotated, Any, Self

from pydantic import Field, model_validator

from docgen.club.schema.base import (
    Day,
    Equipment,
    Flag,
    Jobs,
    Listed,
    Members,
    Name,
    Strict,
    Text,
    Time,
    Tools,
    Whole,
    also,
    fault,
    of_form,
    one_of,
)
from docgen.club.schema.club import Hazard
from docgen.club.schema.drawing import OwnDrawing
from docgen.club.schema.model import Crank, Fail, Interval, Silences
from docgen.club.schema.prose import Language, Prose, Proses
from docgen.club.schema.refers import Refers
from docgen.club.verbs.assembly import Fits, Removes, Renews, Starts, TightensThem, Undoes
from docgen.club.verbs.checks import Looks, Measures
from docgen.club.verbs.fluids import Drains, Fills
from docgen.club.verbs.materials import Applies, Cleans
from docgen.club.verbs.packs import Clears, Packs
from docgen.club.verbs.running import Loads, Runs, Turns
from docgen.club.verbs.settings import Finds, Sets
from docgen.club.verbs.stops import Holds, Repeats, Seals, Waits
from docgen.club.verbs.verb import Verb

CODE = re.compile(r"[A-Z]{3}")
Code = Annotated[str, of_form(CODE, "bad-code", "a sheet code", "write three capital letters, as in CLU")]
GRAVEST = ("danger", "warning", "caution", "notice")
"""The signal words of ANSI Z535.6, the gravest first."""
SignalWord = Annotated[str, one_of(*GRAVEST)]


class SafetyMessage(Strict):
    """A message that stands before the first step that meets one of ``hazards`` (or before the step ``at``)."""

    model_config = also(anyOf=[{"required": ["hazards"]}, {"required": ["at"]}])

    word: SignalWord
    hazards: tuple[Hazard, ...] = ()
    hazard: Prose
    consequence: Prose
    avoid: Prose
    line: Prose | None = None
    at: Annotated[Name, Refers("step")] | None = None

    @model_validator(mode="after")
    def _tied(self) -> Self:
        if not self.hazards and not self.at:
            message = "this message is tied to no hazard and to no step"
            raise fault("message-without-place", message, "write hazards: [fuel] or at: the id of a step")
        return self


_NAMED: list[Any] = [
    {"required": ["id"]},
    {"required": ["look"]},
    {"required": ["hold"], "properties": {"hold": {"required": ["id"], "type": "object"}}},
]
"""The ways in which a step may have a name, as JSON Schema."""


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
    model_config["defer_build"] = False  # procedures and sequences have it made once

    row: Prose | None = None
    adds: Prose | None = None
    alone: Prose | None = None
    do: Prose | None = None
    use: Annotated[Name, Refers("sequence")] | None = None
    id: Name | None = None
    why: Prose | None = None
    only_with: Equipment = ()
    undoes: Undoes = ()
    removes: Removes = ()
    fits: Fits = ()
    renews: Renews = ()
    starts: Starts = ()
    tightens: TightensThem = ()
    again: Flag = False
    cleans: Cleans
    applies: Applies
    finds: Finds = ()
    sets: Sets = ()
    measure: Measures = None
    look: Looks = None
    hold: Holds = None
    wait: Waits = None
    repeat: Repeats = None
    packs: Packs
    clears: Clears = ()
    drains: Drains = ()
    fills: Fills = ()
    turns: Turns = ()
    crank: Crank | None = None
    seals: Seals = ()
    runs: Runs = False
    makes: tuple[Annotated[str, one_of("heat", "spark")], ...] = ()
    loads: Loads = ()
    meets: tuple[Hazard, ...] = ()
    draws: OwnDrawing | None = None
    tools: Tools = ()
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
            message = "a hold or repeated step needs an id, so that its place on the sheet stays the same"
            raise fault("id-needed", message, "write id: with a short name")
        return self

    @property
    def key(self) -> str | None:
        """The step's own name, if it was given one."""
        named = (self, self.hold, self.look)
        return next((one.id for one in named if one is not None and one.id), None)

    @cached_property
    def verbs(self) -> tuple[Verb, ...]:
        """The verbs that it says anything by."""
        said = self.model_fields_set
        return tuple(verb for key, verb in VERBS.items() if key in said and verb.of(self))

    @cached_property
    def work(self) -> tuple[Verb, ...]:
        """Those that touch the engine, in the order in which one step may join them; most steps have one."""
        return tuple(sorted((verb for verb in self.verbs if verb.turn), key=lambda verb: verb.turn))

    @property
    def moved(self) -> tuple[str, ...]:
        """What it takes off, puts on or does up."""
        return tuple(one.name for verb in self.verbs if verb.moves for one in verb.names(self))

    @cached_property
    def fails(self) -> tuple[tuple[Verb, Fail], ...]:
        """What is done where its look or measurement fails, each with its verb."""
        return tuple((verb, fail) for verb in self.verbs if (fail := verb.fail(self)))


VERBS = {key: verb for key, of in Step.model_fields.items() for verb in of.metadata if isinstance(verb, Verb)}
"""All verbs, by the key that says them, in the order of the keys."""


class Stage(Strict):
    stage: Prose
    only_with: Equipment = ()
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]


class AfterRun(Strict):
    """A check that is made after the engine has run, and signed then."""

    id: Name
    do: Prose
    accept: Prose | None = None
    only_with: Equipment = ()


class Procedure(Strict):
    """A job as a club shares it. ``covers`` names the jobs that it contains: signed, it counts as each of them;
    ``gathers`` those that a visit does together with it."""

    procedure: Name
    title: Prose
    code: Code
    revision: Whole
    dated: Day
    author: Text | None = None
    licence: Text | None = None
    language: Language | None = None
    purpose: Prose | None = None
    needs: Equipment = ()
    every: Interval | None = None
    covers: Jobs = ()
    gathers: Jobs = ()
    before: Proses = ()
    tools: Tools = ()
    spares: Members = ()
    safety: tuple[SafetyMessage, ...] = ()
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]
    closing: Annotated[tuple[Annotated[Name, Refers("look")], ...], Listed, Field(max_length=3)] = ()
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
