"""The units that a club may write, what each measures, and the factors between them.

The table is `tables/units.csv`: how many of a dimension's own unit (the SI's, save for angles) each unit is, exactly,
as a number or a quotient of two.
"""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from docgen.trade.errors import TradeError
from docgen.trade.tables import read_table

# A negative figure is a slip of the pen save for clearances, angles, gauge pressures, temperatures and voltages.
_MAY_BE_NEGATIVE = frozenset({"length", "angle", "pressure", "temperature", "voltage"})


class QuantityError(TradeError):
    """A quantity, unit or band that cannot be read or converted: name, message, hint."""


@dataclass(frozen=True)
class Unit:
    """One unit of the table.

    symbol     : as it is written in a club's files
    dimensions : what it measures, the most usual first
    factor     : how many `si` it is, exactly; None for a calendar month, which has no fixed length
    si         : the unit of the same dimensions that all others are told in: the SI's, for angles the degree
    also       : other spellings that people use, which are understood but refused in files
    """

    symbol: str
    dimensions: tuple[str, ...]
    factor: Fraction | None
    si: str
    also: tuple[str, ...]

    @property
    def may_be_negative(self) -> bool:
        """Whether a figure below nothing makes sense, as of a clearance, an angle or a gauge pressure."""
        return not _MAY_BE_NEGATIVE.isdisjoint(self.dimensions)


@cache
def units() -> dict[str, Unit]:
    """Return every known unit by its symbol.

    Errors: none. Source: each row's own.

    >>> units()["min"].factor
    Fraction(60, 1)
    """
    return {
        row["unit"]: Unit(
            row["unit"],
            tuple(row["dimension"].split()),
            _exact(row["factor"]) if row["factor"] else None,
            row["si"],
            tuple(row["also"].split()),
        )
        for row in read_table("units")
    }


def _exact(text: str) -> Fraction:
    """A number, or a quotient of two: ``4.4482216152605 / 0.00064516``."""
    above, _, below = text.partition(" / ")
    return Fraction(above) / Fraction(below or "1")


@cache
def dimensions() -> tuple[str, ...]:
    """Return the names of all dimensions, in the table's order.

    Errors: none. Source: the table's.

    >>> "torque" in dimensions()
    True
    """
    return tuple(dict.fromkeys(name for unit in units().values() for name in unit.dimensions))


def units_of(dimension: str) -> tuple[str, ...]:
    """Return the symbols of one dimension, the most usual first.

    Errors: ValueError when there is no such dimension (a programmer's slip). Source: the table's.

    >>> "N.m" in units_of("torque")
    True
    """
    if dimension not in dimensions():
        raise ValueError(f"no dimension {dimension!r}; there are: {', '.join(dimensions())}")
    return tuple(unit.symbol for unit in units().values() if dimension in unit.dimensions)


def find_unit(symbol: str, dimension: str | None = None) -> Unit:
    """Return the unit of a symbol; `dimension`, when given, is what it must measure.

    Errors: QuantityError `unknown-unit`, with what may have been meant, or `wrong-dimension`. Source: the table's.

    >>> find_unit("N.m").dimensions
    ('torque',)
    """
    unit = units().get(symbol)
    if unit is None:
        raise QuantityError("unknown-unit", f'"{symbol}" is not a known unit', _suggestion(symbol, dimension))
    if dimension is not None and symbol not in units_of(dimension):
        kind = unit.dimensions[0]
        raise QuantityError(
            "wrong-dimension",
            f'"{symbol}" is a unit of {kind}; {dimension} is needed here',
            f"units of {dimension}: {', '.join(units_of(dimension))}",
        )
    return unit


def spelled_unit(text: str) -> str | None:
    """Return the unit that a word of a text means, by its symbol or another spelling of it; None for any other word.

    Errors: none. Source: the table's column of other spellings.

    >>> spelled_unit("minutes"), spelled_unit("N·m"), spelled_unit("nuts")
    ('min', 'N.m', None)
    """
    return _spellings()[0].get(text)


def _suggestion(symbol: str, dimension: str | None) -> str:
    """What to write instead: a unit only where the symbol is another spelling of that very unit, else all there are.

    What looks alike is often another size: N.cm and N.m, mbar and bar.
    """
    allowed = units_of(dimension) if dimension else tuple(units())
    spelled, small = _spellings()
    meant = spelled.get(symbol) or ("" if _may_be_a_prefix(symbol) else small.get(symbol.lower(), ""))
    if meant in allowed:
        return f"did you mean {meant}?"
    return f"units of {dimension}: {', '.join(allowed)}" if dimension else f"known units: {', '.join(allowed)}"


@cache
def _spellings() -> tuple[dict[str, str], dict[str, str]]:
    """Every spelling of a unit, and in small letters those that are one unit's only."""
    spelled = {name: unit.symbol for unit in units().values() for name in (unit.symbol, *unit.also)}
    small: dict[str, set[str]] = {}
    for name, meant in spelled.items():
        small.setdefault(name.lower(), set()).add(meant)
    return spelled, {name: min(meant) for name, meant in small.items() if len(meant) == 1}


def _may_be_a_prefix(symbol: str) -> bool:
    """Whether its first letter may say another size: Mm is a thousand million mm, mPa a thousandth of a Pa."""
    rest = symbol[1:].lower()
    return symbol[:1] in ("m", "M") and not symbol.isupper() and rest in {one.lower() for one in units()}


@cache
def factor(source: str, target: str) -> Fraction:
    """Return the exact number by which a figure in `source` is multiplied to give it in `target`.

    Temperatures have one unit only and are never converted.
    Errors: QuantityError `unknown-unit`; `wrong-dimension` when they measure different things; `no-fixed-length` for
    calendar months. Source: the table's, each row with its own.

    >>> float(factor("lbf.ft", "N.m"))
    1.3558179483314003
    """
    a, b = find_unit(source), find_unit(target)
    if source == target:
        return Fraction(1)
    if not set(a.dimensions) & set(b.dimensions):
        raise QuantityError(
            "wrong-dimension",
            f'"{source}" is a unit of {a.dimensions[0]} and "{target}" of {b.dimensions[0]}: they cannot be converted',
        )
    if a.factor is None or b.factor is None:
        month = a.symbol if a.factor is None else b.symbol
        raise QuantityError(
            "no-fixed-length",
            f"a {month} is a calendar {month} and has no fixed length",
            "write days or hours where the length must be fixed",
        )
    return a.factor / b.factor
