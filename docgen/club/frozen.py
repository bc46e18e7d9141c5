"""What is frozen with a job and read back from it: mappings, and figures as the files spell them."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, PlainSerializer, PlainValidator
from pydantic_core import PydanticSerializationUnexpectedValue

from docgen.trade.quantity import Band, Quantity, parse_band, parse_quantity


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

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
