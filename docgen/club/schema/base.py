"""What all file shapes share: strict models, and the small kinds of text that fields are made of.

Every scalar arrives as text (see :mod:`docgen.club.yamltext`), so that nothing is converted before
its field is known. A value that does not fit raises a :class:`PydanticCustomError` whose type is the
problem's kebab-case name and whose context may carry a ``hint``.

Each kind also says as JSON Schema what may be written there (:mod:`docgen.club.schema.editors`), for editors.
"""

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import lru_cache
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict
from pydantic_core import PydanticCustomError

from docgen.club.schema import editors
from docgen.club.schema.editors import Reads
from docgen.club.schema.refers import Refers
from docgen.trade.quantity import Band, Quantity, QuantityError, parse_band, parse_quantity

NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
MEMBER = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:/[1-9][0-9]?)?")
_WHOLE = re.compile(r"[0-9]{1,6}")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MONEY = re.compile(r"[0-9]{1,9}(\.[0-9]{1,2})?")


class Strict(BaseModel):
    """A mapping of known keys, frozen once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def also(**rules: Any) -> ConfigDict:
    """What more is true of a shape's mapping, as JSON Schema: ``model_config = also(minProperties=1)``."""
    return ConfigDict(json_schema_extra=rules)


def fault(name: str, message: str, hint: str = "") -> PydanticCustomError:
    """The error for one value: its kebab-case name, what is wrong, what to do."""
    return PydanticCustomError(name, "{message}", {"message": message, "hint": hint})


def _text(value: Any) -> Any:
    if value is None or value == "":
        raise fault("empty-value", "nothing is written here", "write the value, or leave the key out")
    if isinstance(value, (dict, list)):
        raise fault("not-text", f"text is needed here, not a {'list' if isinstance(value, list) else 'mapping'}")
    return value


def of_form(form: re.Pattern[str], name: str, what: str, hint: str, *, digits: bool = False) -> Reads:
    """Text of a form, or the fault `name`: that it is not `what`; of `digits`, an editor may take 042 for a number."""

    def read(value: Any) -> Any:
        if not form.fullmatch(_text(value)):
            raise fault(name, f'"{value}" is not {what}', hint)
        return value

    return Reads(read, (editors.word if digits else editors.pattern)(form, hint))


def _flag(value: Any) -> Any:
    if isinstance(value, bool):
        return value
    if value not in ("true", "false"):
        raise fault("not-true-or-false", f'"{value}" is neither true nor false', "write true or false")
    return value == "true"


def _whole(value: Any) -> Any:
    if isinstance(value, int):
        return value
    if not _WHOLE.fullmatch(_text(value)):
        raise fault("not-a-whole-number", f'"{value}" is not a whole number', "write digits only, as in 4")
    return int(value)


def _date(value: Any) -> Any:
    if isinstance(value, date):
        return value
    try:
        if not _DAY.fullmatch(_text(value)):
            raise ValueError
        return date.fromisoformat(value)
    except ValueError:
        raise fault("not-a-date", f'"{value}" is not a date', "write year-month-day, as in 2027-03-14") from None


def _money(value: Any) -> Any:
    if isinstance(value, Decimal):
        return value
    if not _MONEY.fullmatch(_text(value)):
        raise fault("not-a-price", f'"{value}" is not a price', "write digits with a point, as in 12.50")
    return Decimal(value)


def _figure(parse: Callable[[str, str | None], Quantity | Band], dimension: str | None = None) -> Reads:
    shape = editors.band if parse is parse_band else editors.quantity
    parse = lru_cache(4096)(parse)  # the same few figures come again and again

    def read(value: Any) -> Any:
        if isinstance(value, (Quantity, Band)):
            return value
        try:
            return parse(_text(value), dimension)
        except QuantityError as error:
            raise fault(error.name, error.message, error.hint) from None

    return Reads(read, shape(dimension))


def _lasting(value: Any) -> Any:
    if isinstance(value, Quantity) and value.unit == "month":
        hint = "write hours or minutes; what comes round by the calendar is a job's interval, every: {months: 24}"
        raise fault("no-fixed-length", f"{value} has no fixed length: a month is 28 to 31 days", hint)
    return value


def _some(value: Any) -> Any:
    figure = value.value if isinstance(value, Quantity) else value
    if figure <= 0:
        raise fault("nothing-of-it", f"{value} is nothing at all", "write how much, or leave the key out")
    return value


def _listed(value: Any) -> Any:
    if value is None:
        raise fault("empty-value", "nothing is written here", "write the value, or leave the key out")
    if isinstance(value, dict):
        raise fault("not-a-list", "a list is needed here, not a mapping", "write [one, two]")
    return [value] if isinstance(value, str) else value


Listed = Reads(_listed, editors.one_or_list)
"""Lets one value stand for a list of one."""

Text = Annotated[str, Reads(_text, editors.TEXT)]
Name = Annotated[
    str, of_form(NAME, "bad-name", "a name", "names are lower-case words joined by hyphens: clutch-nut", digits=True)
]
Member = Annotated[
    str, of_form(MEMBER, "bad-name", "a name", "write clutch-nut, or head-nuts/2 for one of several", digits=True)
]
Flag = Annotated[bool, Reads(_flag, editors.FLAG)]
_DIGITS = editors.number(_WHOLE, "write digits only, as in 4")
Whole = Annotated[int, Reads(_whole, _DIGITS)]
Count = Annotated[int, Reads(lambda value: _some(_whole(value)), {**_DIGITS, "minimum": 1})]
"""A whole number of at least one."""
Day = Annotated[date, Reads(_date, editors.pattern(_DAY, "write year-month-day, as in 2027-03-14"))]
Money = Annotated[Decimal, Reads(_money, editors.number(_MONEY, "write digits with a point, as in 12.50"))]
Names = Annotated[tuple[Name, ...], Listed]
ToolName = Annotated[Name, Refers("tool")]
GaugeName = Annotated[Name, Refers("gauge")]
MaterialName = Annotated[Name, Refers("material")]
JobName = Annotated[Name, Refers("procedure")]
PartName = Annotated[Name, Refers("part")]
ItemName = Annotated[Name, Refers("part-or-fastener")]
LimitName = Annotated[Name, Refers("limit")]
SettingName = Annotated[Name, Refers("setting")]
Tools = Annotated[tuple[ToolName, ...], Listed]
Jobs = Annotated[tuple[JobName, ...], Listed]
Limits = Annotated[tuple[LimitName, ...], Listed]
Equipment = Annotated[tuple[Annotated[Name, Refers("equipment")], ...], Listed]
Members = Annotated[tuple[Member, ...], Listed]
ModelMembers = Annotated[tuple[Annotated[Member, Refers("member")], ...], Listed]
"""Members that the model itself must define."""
Texts = Annotated[tuple[Text, ...], Listed]

AnyQuantity = Annotated[Quantity, _figure(parse_quantity)]
AnyBand = Annotated[Band, _figure(parse_band)]
_TIME = _figure(parse_quantity, "time")
Time = Annotated[Quantity, Reads(lambda value: _lasting(_TIME.read(value)), editors.lasting())]
"""A time of fixed length: any but months."""
Span = Annotated[Quantity, Reads(lambda value: _some(_lasting(_TIME.read(value))), editors.lasting())]
"""A time of fixed length that is not nothing."""
Length = Annotated[Quantity, _figure(parse_quantity, "length")]
LengthBand = Annotated[Band, _figure(parse_band, "length")]
Torque = Annotated[Quantity, _figure(parse_quantity, "torque")]
TorqueBand = Annotated[Band, _figure(parse_band, "torque")]
AngleBand = Annotated[Band, _figure(parse_band, "angle")]


def one_of(*words: str) -> Reads:
    """Marks a field that holds one of a few words: ``Annotated[str, one_of("a", "b")]``."""

    def check(value: Any) -> Any:
        if _text(value) not in words:
            message = f'"{value}" is not one of the words known here'
            raise PydanticCustomError("unknown-word", "{message}", {"message": message, "given": value, "known": words})
        return value

    return Reads(check, {"enum": list(words)})


def spread(key: str) -> Reads:
    """Lets a mapping be written as plain text that stands for its main key."""
    return Reads(lambda value: {key: value} if isinstance(value, str) else value, editors.or_its(key))
