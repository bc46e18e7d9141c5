"""A figure with its unit, `34 N.m`, and a band of figures, `34 N.m +/- 10 %`; read strictly, kept as written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from docgen.trade.units import QuantityError, factor, find_unit, units_of

__all__ = ["Band", "Quantity", "QuantityError", "parse_band", "parse_quantity"]

_NUMBER = r"[+-]?[0-9]{1,12}(?:\.[0-9]{1,12})?"
_ONE = re.compile(rf"(?P<value>{_NUMBER})\s*(?P<unit>.*)", re.DOTALL)
_RANGE = re.compile(rf"(?P<low>{_NUMBER})(?P<inner>[^.]*)\.\.\s*(?P<rest>.*)", re.DOTALL)
_EXAMPLE = "34 N.m"

# What people write instead, each with what to write; tried in order on a text that cannot be read as it stands.
_SLIPS = (
    (r"\u00b1|\+\s*-|\+/[\u2013\u2212]", "not-a-number", "write +/- for the tolerance, as in 34 N.m +/- 10 %"),
    (r"[\u2264\u2265]|^=[<>]", "not-a-number", "write <= or >="),
    (r"^[<>](?!=)", "not-a-number", "write <= or >=: both ends belong to the band"),
    (r"[0-9]\s*,\s*[0-9]", "decimal-comma", "write a decimal point and no thousands mark, as in 0.50 mm"),
    (r"[0-9]\s*/\s*[0-9]", "not-a-number", "write a decimal figure instead of a fraction, as in 0.5 turn"),
    (r"^[+-]?\.[0-9]", "not-a-number", "write a nought before the point, as in 0.5 mm"),
    (r"^[+-]?[0-9.]+[eE][+-]?[0-9]", "not-a-number", "write the figure out in full"),
    (r"[0-9]\s*(?:[\u2026\u2013\u2014-]|to)\s*[0-9]", "not-a-number", "write a range as 0.5..0.6 mm"),
    (r"^[\u2212\u2013]", "not-a-number", "write the minus sign as -"),
    (r"^[+-]?[0-9]{13}|\.[0-9]{13}", "not-a-number", "write at most 12 figures before and after the point"),
)


@dataclass(frozen=True)
class Quantity:
    """A decimal figure and its unit, both as written.

    value : as written, trailing noughts kept
    unit  : a symbol of `tables/units.csv`

    `==` asks whether figure and unit are the same; `<`, `<=`, `>` and `>=` compare over units of one dimension.
    Errors: QuantityError `not-a-number`, `unknown-unit`, `wrong-dimension`, `no-fixed-length`.

    >>> print(Quantity(Decimal("0.50"), "mm"))
    0.50 mm
    >>> Quantity(Decimal(1), "h") < Quantity(Decimal(90), "min")
    True
    """

    value: Decimal
    unit: str

    def __post_init__(self) -> None:
        find_unit(self.unit)
        if not self.value.is_finite():
            raise QuantityError("not-a-number", f'"{self.value}" is not a number')

    @property
    def dimension(self) -> str:
        """The name of what the unit measures."""
        return find_unit(self.unit).dimensions[0]

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in another unit of its dimension, to 28 figures.

        >>> print(Quantity(Decimal("1.5"), "h").to("min"))
        90 min
        """
        return self if unit == self.unit else Quantity(_convert(self.value, self.unit, unit), unit)

    def exactly(self, unit: str) -> Fraction:
        """Return the figure in another unit of its dimension, without any rounding."""
        return _exactly(self.value, self.unit, unit)

    def __str__(self) -> str:
        return _figure(self.value, self.unit)

    def __lt__(self, other: Quantity) -> bool:
        return Fraction(self.value) < other.exactly(self.unit)

    def __le__(self, other: Quantity) -> bool:
        return Fraction(self.value) <= other.exactly(self.unit)

    def __gt__(self, other: Quantity) -> bool:
        return Fraction(self.value) > other.exactly(self.unit)

    def __ge__(self, other: Quantity) -> bool:
        return Fraction(self.value) >= other.exactly(self.unit)


@dataclass(frozen=True)
class Band:
    """The figures that are allowed, both ends included.

    low, high : the ends, in `unit`; None where the band is open
    unit      : a symbol of `tables/units.csv`
    nominal   : the figure to aim at, where one was given
    written   : the band as it was written; made from the ends when not given

    Errors: QuantityError `empty-range` when low > high or both ends are open.

    >>> print(Band(Decimal("0.50"), Decimal("0.60"), "mm"))
    0.50..0.60 mm
    """

    low: Decimal | None
    high: Decimal | None
    unit: str
    nominal: Decimal | None = None
    written: str = ""

    def __post_init__(self) -> None:
        find_unit(self.unit)
        if self.low is None and self.high is None:
            raise QuantityError("empty-range", "a band needs at least one end")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise QuantityError(
                "empty-range",
                f"the range {self.limits} is empty: {self.low:f} is more than {self.high:f}",
                f"write the smaller figure first: {_ends(self.high, self.low, self.unit)}",
            )
        if not self.written:
            object.__setattr__(self, "written", self.limits)

    @property
    def limits(self) -> str:
        """The band by its ends, whatever way it was written: `30.6..37.4 N.m`."""
        return _ends(self.low, self.high, self.unit)

    def contains(self, quantity: Quantity) -> bool:
        """Tell whether a quantity of the same dimension lies in the band, ends included.

        >>> parse_band("10 N.m +/- 1 N.m").contains(parse_quantity("9.0 N.m"))
        True
        """
        value = quantity.exactly(self.unit)
        return (self.low is None or self.low <= value) and (self.high is None or value <= self.high)

    def to(self, unit: str) -> Band:
        """Return the same band in another unit of its dimension, to 28 figures, written by its ends."""
        if unit == self.unit:
            return self

        def convert(value: Decimal | None) -> Decimal | None:
            return None if value is None else _convert(value, self.unit, unit)

        return Band(convert(self.low), convert(self.high), unit, convert(self.nominal))

    def __str__(self) -> str:
        return self.written


def parse_quantity(text: str, dimension: str | None = None) -> Quantity:
    """Read one figure with its unit; `dimension`, when given, is what it must measure.

    text : up to 12 figures before and behind the point
    Errors: QuantityError `no-unit`, `unknown-unit`, `wrong-dimension`, `not-a-number`, `decimal-comma`,
    `negative-value`; ValueError for a dimension that the table has not.
    Source: the units of ``tables/units.csv``, each with its own.

    >>> parse_quantity("24 h", "time")
    Quantity(value=Decimal('24'), unit='h')
    """
    text = text.strip()
    match = _ONE.fullmatch(text)
    unit = match["unit"].strip() if match else ""
    if match is None or (unit and not _looks_like_unit(unit)):
        raise _unreadable(text, dimension)
    if not unit:
        example = f"{text} {units_of(dimension)[0] if dimension else 'mm'}"
        if dimension == "time":  # what runs counts in hours, what cures in minutes: neither is to be copied unread
            example = f"{text} h or {text} min"
        raise QuantityError("no-unit", f'"{text}" has no unit', f"write it after the figure, as in {example}")
    return _checked(Quantity(Decimal(match["value"]), find_unit(unit, dimension).symbol))


def parse_band(text: str, dimension: str | None = None) -> Band:
    """Read a band: `34 N.m +/- 10 %`, `10 N.m +/- 1 N.m`, `0.50..0.60 mm`, `<= 0.10 mm`, `>= 5 mm`, or one figure.

    A tolerance in per cent is of the nominal figure. One figure alone is low, high and nominal at once.
    Errors: those of `parse_quantity`, and `empty-range`, `negative-tolerance`, `ambiguous-tolerance`, `unit-twice`.
    Source: our way of writing a range.

    >>> parse_band("34 N.m +/- 10 %", "torque").limits
    '30.6..37.4 N.m'
    """
    written = " ".join(text.split())
    if written.startswith(("<=", ">=")):
        end = parse_quantity(written[2:], dimension)
        if written.startswith("<="):
            return Band(None, end.value, end.unit, None, written)
        return Band(end.value, None, end.unit, None, written)
    nominal_text, sign, tolerance_text = written.partition("+/-")
    if sign and not nominal_text.strip():
        raise QuantityError(
            "not-a-number",
            f'"{written}" has no figure before +/-',
            f"write the figure to aim at first, as in 0 mm {written}",
        )
    if sign:
        if tolerance_text.strip().startswith("-"):
            raise QuantityError("negative-tolerance", f'"{written}" has a negative tolerance', "leave out its sign")
        nominal = parse_quantity(nominal_text, dimension)
        spread = _spread(nominal, parse_quantity(tolerance_text))
        _checked(Quantity(nominal.value - spread, nominal.unit))
        return Band(nominal.value - spread, nominal.value + spread, nominal.unit, nominal.value, written)
    if match := _RANGE.fullmatch(written):
        if re.search(r"[0-9]\s*,\s*[0-9]", written):
            raise _unreadable(written, dimension)
        if match["inner"].strip():
            raise QuantityError("unit-twice", f'"{written}" gives the unit twice', "write it once, as in 0.50..0.60 mm")
        high = parse_quantity(match["rest"], dimension)
        low = _checked(Quantity(Decimal(match["low"]), high.unit))
        return Band(low.value, high.value, high.unit, None, written)
    only = parse_quantity(written, dimension)
    return Band(only.value, only.value, only.unit, only.value, written)


def _spread(nominal: Quantity, tolerance: Quantity) -> Decimal:
    if tolerance.unit != "%":
        return tolerance.to(nominal.unit).value
    if nominal.dimension in ("ratio", "temperature"):
        raise QuantityError(
            "ambiguous-tolerance",
            f'per cent of "{nominal}" can be read in two ways',
            "write the two ends, as in 45..55 %",
        )
    return abs(nominal.value) * tolerance.value / 100


def _checked(quantity: Quantity) -> Quantity:
    if quantity.value < 0 and not find_unit(quantity.unit).may_be_negative:
        what = quantity.dimension
        raise QuantityError("negative-value", f"{quantity} is less than nothing: {what} cannot be negative")
    return quantity


def _looks_like_unit(text: str) -> bool:
    return re.fullmatch(r"[^\s0-9+,;<>=\u00b1][^\s+,;<>=\u00b1]*", text) is not None and ".." not in text


def _unreadable(text: str, dimension: str | None) -> QuantityError:
    hint = f"write a figure and its unit, as in {f'34 {units_of(dimension)[0]}' if dimension else _EXAMPLE}"
    if not text:
        return QuantityError("not-a-number", "there is no figure here", hint)
    message = f'"{text}" cannot be read as a figure with its unit'
    for pattern, name, better in _SLIPS:
        if re.search(pattern, text):
            return QuantityError(name, message, better)
    return QuantityError("not-a-number", message, hint)


def _ends(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    if low is None:
        return f"<= {_figure(high or Decimal(0), unit)}"
    if high is None:
        return f">= {_figure(low, unit)}"
    return _figure(low, unit) if low == high else f"{low:f}..{_figure(high, unit)}"


@lru_cache(4096)
def _exactly(value: Decimal, source: str, target: str) -> Fraction:
    """Kept for the figures that come again and again in a long record."""
    return Fraction(value) * factor(source, target)


def _figure(value: Decimal, unit: str) -> str:
    return f"{value:f}{unit}" if unit == ":1" else f"{value:f} {unit}"


def _convert(value: Decimal, source: str, target: str) -> Decimal:
    exact = Fraction(value) * factor(source, target)
    if exact.denominator == 1:
        return Decimal(exact.numerator)
    return (Decimal(exact.numerator) / Decimal(exact.denominator)).normalize()
