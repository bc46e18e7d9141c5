"""How figures and names are written on paper: the file's plain spelling in the printer's signs."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from docgen.club.schema.model import Interval
from docgen.trade.quantity import Band, Quantity

UNITS = {
    "N.m": "N·m",
    "lbf.in": "lbf·in",
    "lbf.ft": "lbf·ft",
    "deg": "°",
    "degC": "°C",
    "ohm": "ohm",
    "um": "µm",
    "cm3": "cm³",
    "turn": "turns",
}


def unit(symbol: str) -> str:
    """A unit as printed: ``N.m`` with a raised point."""
    return UNITS.get(symbol, symbol)


def quantity(value: Quantity) -> str:
    """``34 N·m``; a single turn stays singular."""
    name = "turn" if value.unit == "turn" and value.value <= 1 else unit(value.unit)
    return f"{value.value}{'' if name in ('°',) else ' '}{name}"


def band(value: Band) -> str:
    """``34 N·m ± 10 %``, ``0.50 to 0.60 mm``, ``at most 0.10 mm``, ``at least 5 mm``."""
    if value.nominal is not None and "+/-" in value.written:
        nominal, _, tolerance = value.written.partition("+/-")
        return f"{_units_printed(nominal.strip())} ± {_units_printed(tolerance.strip())}"
    if value.low is not None and value.high is not None:
        if value.low == value.high:
            return quantity(Quantity(value.low, value.unit))
        return f"{value.low} to {value.high} {unit(value.unit)}"
    if value.high is not None:
        return f"at most {value.high} {unit(value.unit)}"
    return f"at least {value.low} {unit(value.unit)}"


def _units_printed(text: str) -> str:
    number, _, symbol = text.partition(" ")
    return f"{number} {unit(symbol)}" if symbol else text


def hours(value: Fraction) -> str:
    """Engine hours to a tenth: ``12.4 h``."""
    return f"{Decimal(round(value * 10)) / 10:.1f} h"


def item_name(name: str, given: str | None) -> str:
    """What an item is called on paper: the name given in the model, else its key in plain words."""
    base, _, member = name.partition("/")
    text = given or base.replace("-", " ")
    return f"{text} {member}" if member else text


def in_text(name: str) -> str:
    """A name as it stands inside a sentence: no capital, unless the first word is an abbreviation.

    >>> in_text("Clutch drum"), in_text("O-ring of the shaft"), in_text("EGT sensor")
    ('clutch drum', 'O-ring of the shaft', 'EGT sensor')
    """
    return name[:1].lower() + name[1:] if name[1:2].islower() or not name[1:2].strip() else name


def listed(names: list[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1] if names else ""


def interval(every: Interval | None) -> str:
    """``every 5 h or 6 months, whichever comes first``, and the occasion; empty where there is none."""
    if every is None:
        return ""
    parts = [quantity(every.hours)] if every.hours else []
    parts += [_counted(every.months, "month")] if every.months else []
    parts += [_counted(every.meetings, "meeting")] if every.meetings else []
    counted = f"every {' or '.join(parts)}{', whichever comes first' if len(parts) > 1 else ''}" if parts else ""
    return "; ".join(part for part in (counted, every.occasion) if part)


def _counted(number: int, what: str) -> str:
    return what if number == 1 else f"{number} {what}s"
