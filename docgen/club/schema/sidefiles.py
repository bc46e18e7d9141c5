"""Files beside ``club.yaml``: ``stock.yaml``, what lies on the shelf, counted by hand; ``glossary.yaml``, the terms of
the trade that the club's jobs use; ``labels.yaml``, its own label sheets, each a grid of equal labels."""

from typing import Annotated, Any

from pydantic import Field

from docgen.club.schema.base import Day, Length, Money, Name, Strict, Text, Texts, Whole, fault, spread
from docgen.club.schema.editors import Reads, held
from docgen.club.schema.prose import Prose
from docgen.trade.quantity import Quantity, QuantityError, parse_quantity


def _held(value: Any) -> Any:
    if isinstance(value, (int, Quantity)):
        return value
    text = value if isinstance(value, str) else ""
    if text.isascii() and text.isdigit() and len(text) <= 6:
        return int(text)
    try:
        return parse_quantity(text)
    except QuantityError as error:
        hint = error.hint or "write 2 for two containers, or what is left of one, as in 150 g"
        raise fault(error.name, error.message, hint) from None


Held = Annotated[int | Quantity, Reads(_held, held())]
"""Whole containers (or pieces), or an amount with its unit."""


class StockedPart(Strict):
    """Pieces on the shelf; ``price`` is that of one."""

    on_hand: Whole = 0
    price: Money | None = None
    place: Text | None = None
    name: Text | None = None


class StockedMaterial(Strict):
    """A material of the register, in containers or as an amount; its price stands in the register."""

    on_hand: Held = 0
    place: Text | None = None


class Stock(Strict):
    """The shelf. ``parts`` are those with a part number of one of the club's engine types, ``other`` is all else."""

    counted: Day | None = None
    parts: dict[Text, StockedPart] = Field(default_factory=dict)
    materials: dict[Name, StockedMaterial] = Field(default_factory=dict)
    other: dict[Text, StockedPart] = Field(default_factory=dict)


class Term(Strict):
    """What a term means; ``forms`` are other forms and spellings of it that the texts use."""

    means: Prose
    forms: Texts = ()


class Glossary(Strict):
    """The terms, by themselves as they are written in a sentence."""

    terms: dict[Text, Annotated[Term, spread("means")]] = Field(default_factory=dict)


class Grid(Strict):
    """One label sheet. ``left`` and ``top`` are from the paper's edge to the first label's edge; ``across`` and
    ``down`` from one label's edge to the same edge of the next (the label's own size where they touch)."""

    paper: Text
    columns: Whole
    rows: Whole
    width: Length
    height: Length
    left: Length
    top: Length
    across: Length | None = None
    down: Length | None = None


class LabelSheets(Strict):
    """The club's label sheets by name."""

    sheets: dict[Name, Grid] = Field(default_factory=dict)
