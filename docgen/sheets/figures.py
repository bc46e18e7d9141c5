"""Figures as they are set in type: 34 N.m +/- 10 % as 34 N·m ± 10 %, with blanks that do not break."""

from __future__ import annotations

import re
from datetime import date
from functools import cache

from docgen.sheets.words import Words
from docgen.trade.units import units

HARD = "\u00a0"
_NUMBER = r"[0-9]+(?:\.[0-9]+)?"


@cache
def _before_unit() -> re.Pattern[str]:
    """The blank between a figure and its unit."""
    symbols = {symbol.replace(".", "·") for symbol in units()} | {"turns", "ohm", "°C", "cm³"}
    return re.compile(rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, sorted(symbols, key=len, reverse=True)))})(?!\w))")


def figure(text: str, words: Words) -> str:
    """Set the figures of a value in type.

    A range is set with a word, since a dash before a figure can be taken for a minus (NIST SP 811, 7.7).

    >>> figure("0.50..0.60 mm", Words()).replace(HARD, " ")
    '0.50 to 0.60 mm'
    >>> figure("34 N.m +/- 10 %", Words()).replace(HARD, " ")
    '34 N·m ± 10 %'
    """
    text = re.sub(r"\b(N|lbf|kgf|daN|cN)\.(m|mm|cm|ft|in)\b", r"\1·\2", text)
    text = text.replace("+/-", "±").replace("<=", "≤").replace(">=", "≥")
    text = re.sub(rf"({_NUMBER})\s*\.\.\s*(-?{_NUMBER})", rf"\1 {words.to} \2", text)
    text = re.sub(r"\bM(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)\b", r"M\1×\2", text)
    text = re.sub(r"(?<![\w.-])-(?=\d)", "−", text)
    text = _before_unit().sub(HARD, text)
    return re.sub(r"([≤≥±]) (?=\d)", rf"\1{HARD}", text)


def day(when: date, words: Words) -> str:
    """A date that cannot be read two ways.

    >>> day(date(2026, 1, 8), Words()).replace(HARD, " ")
    '8 January 2026'
    """
    return f"{when.day}{HARD}{words.months[when.month - 1]}{HARD}{when.year}"


def minutes(count: int, words: Words) -> str:
    """A length of time from minutes, by the largest fitting units.

    >>> minutes(95, Words()).replace(HARD, " ")
    '1 h 35 min'
    """
    hours, rest = divmod(count, 60)
    parts = [f"{hours}{HARD}{words.hour}"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}{HARD}{words.minute}")
    return HARD.join(parts)


def drive(name: str, words: Words) -> str:
    """A screw drive in words: ``hex 17 mm`` is a 17 mm hexagon.

    >>> drive("hex 17 mm", Words()).replace(HARD, " ")
    '17 mm hex'
    """
    kind, _, size = name.partition(" ")
    pattern = words.drives.get(kind)
    return figure(pattern.format(size=size), words) if pattern else figure(name, words)


def capital(text: str) -> str:
    """A label begins with a capital."""
    return text[:1].upper() + text[1:]


def counted(name: str, count: int) -> str:
    """A name with how many there are: 2 × carburettor nut."""
    return f"{count}\u00a0× {name}" if count > 1 else capital(name)
