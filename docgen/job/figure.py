"""A figure of a job: a band of figures or words, and where it came from. It is worded where it is printed, not here.

In the frozen job a figure stands as the files spell it (``34 N.m +/- 10 %``), in no language.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, PlainSerializer, PlainValidator
from pydantic_core import PydanticSerializationUnexpectedValue

from docgen.club.schema.prose import Line
from docgen.trade.quantity import Band, Quantity, parse_band, parse_quantity

Origin = Literal["deviation", "model", "club", "computed", "blank"]



def _band(value: Any) -> Band:
    return value if isinstance(value, Band) else parse_band(_text(value))


def _quantity(value: Any) -> Quantity:
    return value if isinstance(value, Quantity) else parse_quantity(_text(value))


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise ValueError("a figure is frozen as text")
    return value


def _spelled(value: Band | Quantity) -> str:
    if not isinstance(value, (Band, Quantity)):
        raise PydanticSerializationUnexpectedValue  # another member of a union may know it
    return str(value)


BandText = Annotated[Band, PlainValidator(_band), PlainSerializer(_spelled)]
"""A band, frozen as the files spell it."""
QuantityText = Annotated[Quantity, PlainValidator(_quantity), PlainSerializer(_spelled)]
"""A quantity, frozen as the files spell it."""


class Frozen(BaseModel):
    """A mapping that is frozen with the job and read back from it."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Wires(Frozen):
    """A go/no-go gauge's answer: the largest wire that must pass, and the least that must not."""

    go: QuantityText
    stop: QuantityText

    def contains(self, value: Quantity) -> bool:
        """Whether the largest wire that passed is good: at least the one that must, less than the one that must not."""
        return self.go <= value < self.stop


class Figure(Frozen):
    """A figure that a sheet prints, and where it came from.

    band        : what it may be; None where it is in words, or where nobody knows it
    words       : what stands in its place, such as how a screw is tightened by feel
    source      : who gave it, in the file's words
    assumptions : of a computed one, as :mod:`docgen.trade` says them; ``governs`` is the side that sets its ceiling
    """

    band: BandText | None = None
    words: Line = ""
    origin: Origin
    source: Line = ""
    assumptions: tuple[str, ...] = ()
    governs: str = ""

    @property
    def blank(self) -> bool:
        """Whether the line stays empty on purpose: the maker's manual has the figure, or nobody has it."""
        return self.origin == "blank"
