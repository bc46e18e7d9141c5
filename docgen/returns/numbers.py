"""Figures as people write them into a box whose unit is printed beside it: ``0,45``, ``.45``, ``0.45mm``, ``1 1/2``."""

import re
import unicodedata
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from docgen.returns.diagnostic import Refused
from docgen.trade.quantity import Quantity
from docgen.trade.units import find_unit, units

NOTHING = frozenset({"", "-", "--", "–", "—", "/", "n/a", "na", "x"})
"""What people write into a box that they leave out."""
_DASHES = str.maketrans("−‒–—", "----")
_DECIMAL = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<whole>[0-9]{0,12})(?:(?P<mark>[.,])(?P<part>[0-9]{1,12}))?(?P<rest>.*)", re.S
)
_MIXED = re.compile(
    r"(?:(?P<whole>[0-9]{1,3})(?:\s+|\s*-\s*))?(?P<top>[0-9]{1,3})\s*/\s*(?P<under>[0-9]{1,3})(?P<rest>.*)", re.S
)
_COUNTED = frozenset({"rpm", "Hz"})
"""Units of large whole figures, where a comma may part thousands."""
_IN_FRACTIONS = frozenset({"turn", "in"})


class Figure(NamedTuple):
    """What was understood. ``said`` is empty where the text stands as it was understood."""

    quantity: Quantity
    said: str = ""


def left_out(text: str) -> bool:
    """Whether a box holds nothing, or only a dash for nothing.

    >>> left_out(" – "), left_out("n/a"), left_out("0")
    (True, True, False)
    """
    return text.strip().casefold() in NOTHING


def read_figure(text: str, unit: str) -> Figure:
    """One figure from a box whose printed unit has the symbol `unit`.

    A comma counts as the decimal point; a unit of the same kind behind the figure stands; full-width digits are read
    as digits. Turns and inches may be written as fractions.
    Errors: Refused ``not-a-figure``, ``two-ways-to-read``, ``unknown-unit``, ``wrong-unit``, ``negative-figure``.

    >>> print(read_figure("0,45mm", "mm").quantity, "|", read_figure(".45", "mm").quantity)
    0.45 mm | 0.45 mm
    >>> read_figure("1 1/2", "turn")
    Figure(quantity=Quantity(value=Decimal('1.5'), unit='turn'), said='"1 1/2" understood as 1.5 turn')
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).replace("\u2044", "/").translate(_DASHES).split())
    mixed = _MIXED.fullmatch(_unfolded(text))
    if mixed and unit in _IN_FRACTIONS:
        value, rest = _fraction(text, mixed, unit), mixed["rest"]
    else:
        value, rest = _decimal(text, plain, unit)
    found = Quantity(value, _unit(text, rest.strip(), unit))
    if value < 0 and not find_unit(found.unit).may_be_negative:
        raise Refused("negative-figure", f'"{text.strip()}" is less than nothing', "look at the sheet again")
    same = text.strip() in (f"{value}", f"{value} {found.unit}") and found.unit == unit
    also = "" if found.unit == unit else f", that is {_in(found, unit)}"
    return Figure(found, "" if same else f'"{text.strip()}" understood as {found}{also}')


def _unfolded(text: str) -> str:
    """The text with its fraction characters written out: ``1½`` is ``1 1/2``."""
    out = []
    for char in text.translate(_DASHES):
        folded = unicodedata.normalize("NFKC", char).replace("\u2044", "/")
        out.append(f" {folded}" if "/" in folded and len(folded) > 1 else folded)
    return " ".join("".join(out).split())


def _fraction(text: str, found: re.Match[str], unit: str) -> Decimal:
    top, under = int(found["top"]), int(found["under"])
    if not 0 < top < under:
        raise _unreadable(text, unit)
    value = int(found["whole"] or 0) + Fraction(top, under)
    if 10**6 % value.denominator:
        raise Refused("not-a-figure", f'"{text.strip()}" is no decimal figure', "write it with a decimal point")
    return Decimal(value.numerator) / Decimal(value.denominator)


def _decimal(text: str, plain: str, unit: str) -> tuple[Decimal, str]:
    found = _DECIMAL.fullmatch(plain)
    more = r"\s*[0-9.,'+*^/±<>=~-]|[eE][0-9]"
    if found is None or not (found["whole"] or found["part"]) or re.match(more, found["rest"]):
        raise _unreadable(text, unit)
    if found["mark"] == "," and unit in _COUNTED and len(found["part"]) == 3:
        message = f'"{text.strip()}" may be thousands or a decimal figure'
        raise Refused("two-ways-to-read", message, "write it without a comma")
    figure = f"{found['sign'].strip('+')}{found['whole'] or '0'}" + (f".{found['part']}" if found["part"] else "")
    return Decimal(figure), found["rest"]


def _unreadable(text: str, unit: str) -> Refused:
    one = "1 1/2" if unit == "turn" else "0.45"
    return Refused("not-a-figure", f'"{text.strip()[:60]}" cannot be read as one figure',
                   f"write one figure, as in {one}; the unit, {unit}, is printed beside the box")  # fmt: skip


def _unit(text: str, written: str, printed: str) -> str:
    if not written:
        return printed
    symbol = _spellings().get(written) or _spellings().get(written.casefold().rstrip("."))
    if symbol is None:
        message = f'"{text.strip()[:60]}" has a unit that is not known here'
        raise Refused("unknown-unit", message, f"write the figure in {printed}")
    one, other = find_unit(symbol), find_unit(printed)
    if not set(one.dimensions) & set(other.dimensions):
        message = f'"{text.strip()}" is a figure of {one.dimensions[0]}; the box is in {printed}'
        raise Refused("wrong-unit", message, "look whether it was meant for another box")
    return printed if one.factor == other.factor else symbol


def _in(found: Quantity, unit: str) -> Quantity:
    """For showing: in the printed unit, to four figures more than a gauge shows."""
    value = found.to(unit).value
    return Quantity(Decimal(f"{value:.6g}").normalize() + 0, unit)


@cache
def _spellings() -> dict[str, str]:
    """Every spelling of a unit, and where that is not another's, the same in small letters."""
    exact = {spelling: unit.symbol for unit in units().values() for spelling in (*unit.also, unit.symbol)}
    exact |= {unicodedata.normalize("NFKC", spelling): symbol for spelling, symbol in exact.items()}
    folded: dict[str, set[str]] = {}
    for spelling, symbol in exact.items():
        folded.setdefault(spelling.casefold(), set()).add(symbol)
    return {spelling: symbols.pop() for spelling, symbols in folded.items() if len(symbols) == 1} | exact
