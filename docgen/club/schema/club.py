"""``club.yaml``: the club, its paper, its season, and its registers of tools, gauges and materials."""

from typing import Annotated, Any, Self

from pydantic import Field, model_validator

from docgen.club.catalogue import languages
from docgen.club.schema.base import (
    AnyBand,
    AnyQuantity,
    Day,
    Flag,
    Length,
    Money,
    Name,
    Names,
    Span,
    Strict,
    Text,
    Texts,
    Time,
    Torque,
    TorqueBand,
    also,
    fault,
    one_of,
)
from docgen.club.schema.drawing import Style
from docgen.club.schema.editors import Reads
from docgen.club.schema.prose import Prose, Proses
from docgen.trade.quantity import QuantityError

Hazard = Annotated[str, one_of(
    "fuel", "solvent", "heat", "current", "spring", "turning", "pressure", "sharp", "weight", "noise", "skin",
    "eyes", "fumes", "exhaust", "pinch",
)]  # fmt: skip
MaterialKind = Annotated[str, one_of(
    "grease", "oil", "chain-lubricant", "solvent", "degreaser", "threadlocker", "anti-seize", "fuel", "sealant",
    "paint", "electrolyte", "consumable",
)]  # fmt: skip
Paper = Annotated[str, one_of("A4", "Letter")]


def _printable(value: Any) -> Any:
    known = languages()
    if value not in known:
        hint = f"known here: {', '.join(known)}; docs/languages.md says how to add one"
        raise fault("unknown-language", f'the program has no words in "{value}"', hint)
    return value


ClubLanguage = Annotated[str, Reads(_printable, {"enum": list(languages())})]
TorqueUnit = Annotated[str, one_of("N.m", "lbf.in", "lbf.ft")]


class Round(Strict):
    """A race meeting of the season."""

    round: Text
    date: Day


class Tool(Strict):
    """A tool of the register. ``drives`` are the screw drives that it turns, as the models write them;
    ``torque`` and ``step`` make it a torque wrench."""

    name: Prose
    drives: Texts = ()
    torque: TorqueBand | None = None
    step: Torque | None = None
    calibrated_until: Day | None = None

    @model_validator(mode="after")
    def _can_be_set(self) -> Self:
        if self.torque is not None and self.step is not None:
            try:
                span = self.torque.to(self.step.unit)
            except QuantityError as error:
                raise fault(error.name, error.message, error.hint) from None
            reach = None if span.low is None or span.high is None else span.high - span.low
            if self.step.value <= 0 or (reach is not None and self.step.value > reach):
                message = f"a wrench of {self.torque} cannot be set in steps of {self.step}"
                raise fault("no-such-wrench", message, "write its range and the step between two of its marks")
        return self


class Gauge(Strict):
    """A measuring tool: what it spans, the smallest step it shows, its expanded uncertainty (k = 2).

    ``wires`` makes it a set of wires (or plugs) that pass or do not: ``range`` is then the smallest and the largest of
    them, ``reads`` the step from one to the next.
    """

    model_config = also(**{"if": {"required": ["wires"]}, "then": {"required": ["range", "reads"]}})

    name: Prose
    wires: Flag = False
    range: AnyBand | None = None
    reads: AnyQuantity | None = None
    uncertainty: AnyQuantity | None = None
    calibrated_until: Day | None = None

    @model_validator(mode="after")
    def _can_be(self) -> Self:
        for what, figure in (("its steps", self.reads), ("its uncertainty", self.uncertainty)):
            if figure is not None and figure.value <= 0:
                message = f"no gauge is so fine: {what} of {figure}"
                raise fault("no-such-gauge", message, "write the figure of its certificate, or leave the key out")
        return self

    @model_validator(mode="after")
    def _set_of_wires(self) -> Self:
        if self.wires and (self.reads is None or self.range is None or None in (self.range.low, self.range.high)):
            message = "a set of wires needs its smallest, its largest and the step between"
            raise fault("wires-unknown", message, "write range: 0.40..1.00 mm and reads: 0.05 mm")
        return self


class Cure(Strict):
    """How long a threadlocker or sealant needs before it may be handled, and before it holds in full."""

    handling: Time
    full: Time


class Material(Strict):
    """What is used up: its kind decides what cleaning and greasing mean to the simulation."""

    name: Prose
    kind: MaterialKind
    container: AnyQuantity | None = None
    price: Money | None = None
    cures: Cure | None = None
    hazards: tuple[Hazard, ...] = ()
    classed: Proses = ()
    waste: Prose | None = None


class Club(Strict):
    """The club's own choices and registers. ``equipment`` are words that its jobs use though no engine type has it."""

    club: Text
    paper: Paper = "A4"
    bench_paper: Paper | None = None
    language: ClubLanguage = "en"
    torque_shown: tuple[TorqueUnit, ...] = ("N.m",)
    bench_distance: Length
    currency: Text | None = None
    hours_a_meeting: Span
    bench_hours_a_week: Span | None = None
    season: tuple[Round, ...] = ()
    equipment: Names = ()
    style: Style = Style()
    tools: dict[Name, Tool] = Field(default_factory=dict)
    gauges: dict[Name, Gauge] = Field(default_factory=dict)
    materials: dict[Name, Material] = Field(default_factory=dict)
