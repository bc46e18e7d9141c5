"""Printed figures back to figures: the other way round from :mod:`docgen.job.wording`.

A frozen job keeps what was printed, and a signed sheet is judged by that and by nothing newer. What is printed depends
on the job's language, which is frozen with it.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from docgen.job.marks import ReadingMark, Value
from docgen.job.wording import IN_ENGLISH, UNITS, words_of_units
from docgen.job.words import JobWords
from docgen.trade.quantity import Band, Quantity, QuantityError, parse_band

_ASCII = {printed: symbol for symbol, printed in UNITS.items()}


def unit_of(printed: str, w: JobWords = IN_ENGLISH) -> str:
    """The symbol of a printed unit; a word that is no unit (``teeth``) stays as it is.

    >>> unit_of("N·m"), unit_of("turns"), unit_of("mm")
    ('N.m', 'turn', 'mm')
    """
    words = {word: symbol for symbol, word in words_of_units(w).items()} | {w.turn: "turn"}
    return _ASCII.get(printed) or words.get(printed, printed)


def band_of(printed: str, w: JobWords = IN_ENGLISH) -> Band | None:
    """The band that was printed, or None where the text is no band (a blank, a note, "by feel").

    >>> band_of("34 N·m ± 10 %").limits, band_of("at most 0.20 mm").limits, band_of("0.60 to 1.40 mm").limits
    ('30.6..37.4 N.m', '<= 0.20 mm', '0.60..1.40 mm')
    """
    text = printed.strip()
    signs = {"<= {value}": w.at_most_of, ">= {value}": w.at_least_of, "{low}..{high} {unit}": w.low_to_high}
    for sign, pattern in signs.items():
        if found := _filled_in(pattern).fullmatch(text):
            text = sign.format(**found.groupdict())
            break
    text = re.sub(rf"(?<=\d){re.escape(w.decimal_sign)}(?=\d)", ".", text).replace("±", "+/-")
    text = re.sub(r"(?<=\d)\s*([^\s\d.+/-][^\s\d]*)", lambda found: f" {unit_of(found[1], w)}", text)
    try:
        return parse_band(text)
    except QuantityError:
        return None


def accepts(mark: ReadingMark, value: Quantity, w: JobWords = IN_ENGLISH) -> bool | None:
    """Whether a reading is among the figures that were printed to accept; None where none were.

    Of wires that pass or do not, the largest that passes is read: at least the one that must, less than the one that
    must not. Errors: QuantityError for another unit.
    """
    if wires := _filled_in(w.go_no_go).fullmatch(mark.accept):
        go, stop = (Fraction(wires[key].replace(w.decimal_sign, ".")) for key in ("go", "stop"))
        return go <= value.exactly(unit_of(mark.unit, w)) < stop
    band = band_of(mark.accept, w)
    return None if band is None else band.contains(value)


@cache
def _filled_in(pattern: str) -> re.Pattern[str]:
    """What a word of the catalogue looks like when its braces are filled: numbers where numbers go."""
    parts = re.split(r"\{(\w+)\}", pattern)
    groups = dict.fromkeys(("low", "high", "go", "stop"), r"-?\d[\d.,]*")
    found = [re.escape(part) if n % 2 == 0 else f"(?P<{part}>{groups.get(part, '.+')})" for n, part in enumerate(parts)]
    return re.compile("".join(found))


def limit_of(mark: ReadingMark, w: JobWords = IN_ENGLISH) -> Band | None:
    """What decides on a reading: the printed service limit, else the printed range of new parts."""
    values: tuple[Value | None, ...] = (mark.allow, mark.new)
    return next((band for value in values if value and (band := band_of(value.text, w))), None)
