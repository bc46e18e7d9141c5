"""Figures in a text: `12 N.m`, `0.5 to 0.6 mm`, `at most four tenths` are found as what they say, in each language."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache
from typing import Literal

from docgen.proof.tables import read_words
from docgen.trade.quantity import Quantity
from docgen.trade.units import spelled_unit, units

Bound = Literal["", "most", "least", "end"]
"""What a text calls a figure: the most that may be, the least, or an end that is not to be passed."""
_KINDS: Mapping[str, Bound] = {"most": "most", "least": "least", "end": "end"}
_NO_UNIT = frozenset({"in"})
"""Units that are words too."""
_NUMBER = r"\d{1,6}(?:[.,]\d{1,4})?"
_RANGE = r"(?:\s*(?:to|bis|\.\.|–|-)\s*)"


@dataclass(frozen=True)
class Figure:
    """A figure of a text, with its unit.

    written : as the text has it          start : where it stands in the text
    low, high : the same twice, but for a range
    bound   : whether the text calls it the most, the least or an end of what may be
    """

    written: str
    start: int
    low: Quantity
    high: Quantity
    bound: Bound = ""

    @property
    def dimensions(self) -> tuple[str, ...]:
        """What its unit measures."""
        return units()[self.low.unit].dimensions


@lru_cache(maxsize=4096)
def figures(text: str, language: str) -> tuple[Figure, ...]:
    """Every figure with a unit; those whose unit nobody knows are left out.

    >>> [(one.written, str(one.high), one.bound) for one in figures("Pump to 0.5 bar, at most 0.8 to 1 bar.", "en")]
    [('0.5 bar', '0.5 bar', ''), ('0.8 to 1 bar', '1 bar', 'most')]
    """
    return tuple(_figures(text, language))


def _figures(text: str, language: str) -> Iterator[Figure]:
    words = numbers(language)
    for match in _pattern(language).finditer(text):
        unit = spelled_unit(match["unit"])
        if unit is None or match["unit"] in _NO_UNIT:
            continue
        high = Quantity(_value(match["high"], words), unit)
        low = Quantity(_value(match["low"], words), unit) if match["low"] else high
        if low.value <= high.value:
            bound = _bounds(language).get((match["bound"] or "").lower(), "")
            yield Figure(match["whole"], match.start("whole"), low, high, bound)


@cache
def _pattern(language: str) -> re.Pattern[str]:
    spelled = sorted(numbers(language), key=len, reverse=True)
    one = rf"(?:{_NUMBER}|(?:{'|'.join(map(re.escape, spelled))})\b)" if spelled else _NUMBER
    bounds = "|".join(re.escape(phrase) for phrase in sorted(_bounds(language), key=len, reverse=True))
    return re.compile(
        rf"(?:\b(?P<bound>{bounds or '(?!)'})\s+)?(?<![\w.,/])(?P<whole>(?:(?P<low>{one}){_RANGE})?(?P<high>{one})"
        r"(?:\s|-)?(?P<unit>N·m|[A-Za-zµ°Ω%²³][A-Za-zµ°Ω²³]*(?:[.·/*-][A-Za-z0-9²³]+)*))(?![\w])",
        re.IGNORECASE,
    )


def _value(text: str, words: Mapping[str, Decimal]) -> Decimal:
    known = words.get(text.lower())
    return known if known is not None else Decimal(text.replace(",", "."))


@cache
def numbers(language: str) -> Mapping[str, Decimal]:
    """The numbers that a language writes as words: `two`, `zwei`."""
    return {row["word"]: Decimal(row["value"]) for row in read_words("numbers") if row["language"] == language}


@cache
def _bounds(language: str) -> Mapping[str, Bound]:
    return {row["phrase"]: _KINDS[row["bound"]] for row in read_words("bounds") if row["language"] == language}
