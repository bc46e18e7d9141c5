"""How figures and names are written on paper: the files' plain spelling in printers' signs and a language's words."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from docgen.club.schema.model import Interval
from docgen.club.schema.prose import like
from docgen.club.words import Words, message
from docgen.job.figure import Figure, Wires
from docgen.job.state import OpenFinding
from docgen.trade.quantity import Band, Quantity

UNITS = {"N.m": "N·m", "lbf.in": "lbf·in", "lbf.ft": "lbf·ft", "deg": "°", "degC": "°C", "um": "µm", "cm3": "cm³"}
IN_ENGLISH = Words()
"""What the commands say on the screen."""


def unit(symbol: str, w: Words = IN_ENGLISH) -> str:
    """A unit as printed: ``N.m`` with a raised point."""
    return UNITS.get(symbol) or words_of_units(w).get(symbol) or like(symbol, symbol)


def words_of_units(w: Words) -> dict[str, str]:
    """The units that a language has words for, several of each."""
    return {"turn": w("turns"), "ohm": w("ohm"), "kohm": w("kohm"), "rpm": w("rpm")}


def quantity(value: Quantity, w: Words = IN_ENGLISH) -> str:
    """``34 N·m``; a single turn stays singular."""
    name = w("turn") if value.unit == "turn" and value.value <= 1 else unit(value.unit, w)
    return f"{w.number(value.value)}{'' if name in ('°',) else ' '}{name}"


def band(value: Band, w: Words = IN_ENGLISH) -> str:
    """``34 N·m ± 10 %``, ``0.50 to 0.60 mm``, ``at most 0.10 mm``, ``at least 5 mm``."""
    if value.nominal is not None and "+/-" in value.written:
        nominal, _, tolerance = value.written.partition("+/-")
        return f"{_units_printed(nominal.strip(), w)} ± {_units_printed(tolerance.strip(), w)}"
    if value.low is not None and value.high is not None:
        if value.low == value.high:
            return quantity(Quantity(value.low, value.unit), w)
        low, high = w.number(value.low), w.number(value.high)
        return w("{low} to {high} {unit}", low=low, high=high, unit=unit(value.unit, w))
    if value.high is not None:
        return w("at most {value}", value=f"{w.number(value.high)} {unit(value.unit, w)}")
    return w("at least {value}", value=f"{w.number(value.low)} {unit(value.unit, w)}")


def _units_printed(text: str, w: Words) -> str:
    number, _, symbol = text.partition(" ")
    return f"{w.number(number)} {unit(symbol, w)}" if symbol else w.number(text)


def figure(value: Figure, w: Words = IN_ENGLISH) -> str:
    """A figure's band, or what stands in its place; empty for a blank line."""
    return band(value.band, w) if value.band is not None else value.words


def wires(value: Wires, w: Words = IN_ENGLISH) -> str:
    """``0.50 passes, 0.60 does not``."""
    return w("{go} passes, {stop} does not", go=w.number(value.go.value), stop=w.number(value.stop.value))


def tenths(value: Fraction) -> Quantity:
    """Engine hours to a tenth, as a quantity.

    >>> print(tenths(Fraction(62, 5)))
    12.4 h
    """
    return Quantity(Decimal(f"{Decimal(round(value * 10)) / 10:.1f}"), "h")


def hours(value: Fraction, w: Words = IN_ENGLISH) -> str:
    """Engine hours to a tenth: ``12.4 h``."""
    return quantity(tenths(value), w)


def item_name(name: str, given: str | None) -> str:
    """What an item is called on paper: the name given in the model, else its key in plain words."""
    base, _, member = name.partition("/")
    text = given or base.replace("-", " ")
    return like(text, f"{text} {member}") if member else text


def in_text(name: str, w: Words = IN_ENGLISH) -> str:
    """A name as it stands inside a sentence: no capital, unless the first word is an abbreviation or nouns have one.

    >>> in_text("Clutch drum"), in_text("O-ring of the shaft"), in_text("EGT sensor")
    ('clutch drum', 'O-ring of the shaft', 'EGT sensor')
    """
    if w.capital_nouns or not (name[1:2].islower() or not name[1:2].strip()):
        return name
    return like(name, name[:1].lower() + name[1:])


def listed(names: Sequence[str], w: Words = IN_ENGLISH) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(names) < 2:
        return "".join(names)
    return w("{first} and {last}", first=", ".join(names[:-1]), last=names[-1])


def interval(every: Interval | None, w: Words = IN_ENGLISH) -> str:
    """``every 5 h or 6 months, whichever comes first``, and the occasion; empty where there is none."""
    if every is None:
        return ""
    times = [quantity(every.hours, w)] if every.hours else []
    times += [months(every.months, w)] if every.months else []
    if every.meetings:
        one = every.meetings == 1
        times += [w.pgettext("every", "meeting") if one else w("{count} meetings", count=every.meetings)]
    said = times[0] if times else ""
    for other in times[1:]:
        said = w("{one} or {other}", one=said, other=other)
    whole = message("every {times}, whichever comes first" if len(times) > 1 else "every {times}")
    counted = w(whole, times=said) if times else ""
    return "; ".join(part for part in (counted, every.occasion) if part)


def months(count: int, w: Words = IN_ENGLISH) -> str:
    """``month``, ``6 months``, behind "every"."""
    return w.pgettext("every", "month") if count == 1 else w("{count} months", count=count)


def finding(found: OpenFinding, w: Words = IN_ENGLISH) -> str:
    """An open finding as a sheet lists it: the day in figures, then what was found."""
    return f"{found.day.isoformat()}: {found_text(found, w)}"


def found_text(found: OpenFinding, w: Words = IN_ENGLISH) -> str:
    """What was found, as it was written; or that a job calls for another."""
    if not found.by:
        return found.text
    return w("{procedure}: what was found calls for {called}", procedure=found.by, called=found.calls)
