"""Printed figures back to figures: the other way round from :mod:`docgen.job.wording`.

A frozen job keeps what was printed, and a signed sheet is judged by that and by nothing newer.
"""

from __future__ import annotations

import re

from docgen.job.marks import ReadingMark, Value
from docgen.job.wording import UNITS
from docgen.trade.quantity import Band, QuantityError, parse_band

_SYMBOLS = {printed: symbol for symbol, printed in UNITS.items()} | {"turn": "turn"}
_OPEN = (("at most ", "<= "), ("at least ", ">= "))


def unit_of(printed: str) -> str:
    """The symbol of a printed unit; a word that is no unit (``teeth``) stays as it is.

    >>> unit_of("N·m"), unit_of("turns"), unit_of("mm")
    ('N.m', 'turn', 'mm')
    """
    return _SYMBOLS.get(printed, printed)


def band_of(printed: str) -> Band | None:
    """The band that was printed, or None where the text is no band (a blank, a note, "by feel").

    >>> band_of("34 N·m ± 10 %").limits, band_of("at most 0.20 mm").limits, band_of("0.60 to 1.40 mm").limits
    ('30.6..37.4 N.m', '<= 0.20 mm', '0.60..1.40 mm')
    """
    text = printed.strip()
    for word, sign in _OPEN:
        if text.startswith(word):
            text = sign + text.removeprefix(word)
    text = re.sub(r"(?<=\d) to (?=-?\d)", "..", text).replace("±", "+/-")
    text = re.sub(r"(?<=\d)\s*([^\s\d.+/-][^\s\d]*)", lambda found: f" {unit_of(found[1])}", text)
    try:
        return parse_band(text)
    except QuantityError:
        return None


def limit_of(mark: ReadingMark) -> Band | None:
    """What decides on a reading: the printed service limit, else the printed range of new parts."""
    values: tuple[Value | None, ...] = (mark.allow, mark.new)
    return next((band for value in values if value and (band := band_of(value.text))), None)
