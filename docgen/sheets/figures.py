"""Figures as they are set in type: 34 N.m +/- 10 % as 34 N·m ± 10 %, with blanks that do not break."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from babel.dates import format_date

from docgen.club.schema.prose import like
from docgen.club.words import Words, message
from docgen.job import wording
from docgen.job.figure import Figure, Wires
from docgen.job.job import PastReading
from docgen.job.marks import ReadingMark
from docgen.job.tradewords import of_trade
from docgen.job.wording import words_of_units
from docgen.trade.quantity import Band, Quantity, QuantityError, parse_quantity
from docgen.trade.units import units

HARD = "\u00a0"
_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_FIGURES = re.compile(r"(\D*)(\d.*\d|\d)(\D*)")


@cache
def _before_unit(*words: str) -> re.Pattern[str]:
    """The blank between a figure and its unit; `words` are the units that a language has words for."""
    symbols = {symbol.replace(".", "·") for symbol in units()} | {*words, "°C", "cm³"}
    return re.compile(rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, sorted(symbols, key=len, reverse=True)))})(?!\w))")


Printed = str | Band | Quantity | Wires | Figure
"""What is set in type: text that holds figures as the files spell them, or a figure of the job."""
_WORDED: dict[type, Callable[[Any, Words], str]] = {
    Band: wording.band, Quantity: wording.quantity, Wires: wording.wires, Figure: wording.figure,
}  # fmt: skip


def figure(value: Printed, words: Words) -> str:
    """Set a figure, or the figures of a text, in type; a text's decimal sign was chosen where the text was made.

    A range is set with a word, since a dash before a figure can be taken for a minus (NIST SP 811, 7.7).

    >>> figure("0.50..0.60 mm", Words()).replace(HARD, " ")
    '0.50 to 0.60 mm'
    >>> figure("34 N.m +/- 10 %", Words()).replace(HARD, " ")
    '34 N·m ± 10 %'
    """
    text = written = value if isinstance(value, str) else _WORDED[type(value)](value, words)
    text = re.sub(r"\b(N|lbf|kgf|daN|cN)\.(m|mm|cm|ft|in)\b", r"\1·\2", text)
    text = text.replace("+/-", "±").replace("<=", "≤").replace(">=", "≥")
    text = re.sub(rf"({_NUMBER})\s*\.\.\s*(-?{_NUMBER})", rf"\1 {words('to')} \2", text)
    text = re.sub(r"\bM(\d+(?:[.,]\d+)?)x(\d+(?:[.,]\d+)?)\b", r"M\1×\2", text)
    text = re.sub(r"(?<![\w.-])-(?=\d)", "−", text)
    text = _before_unit(words("turn"), *words_of_units(words).values()).sub(HARD, text)
    return like(written, re.sub(r"([≤≥±]) (?=\d)", rf"\1{HARD}", text))


def standing(value: Figure, words: Words) -> str:
    """Who gave a figure, or how it was computed; empty where there is nothing to say."""
    if value.origin == "computed":
        assumptions = "; ".join(of_trade(text, words) for text in value.assumptions)
        how = message("estimate, not the maker's: {assumptions}; the {governs} governs")
        return figure(words(how, assumptions=assumptions, governs=words(value.governs)), words)
    return figure(value.source, words) or (words("this engine") if value.origin == "deviation" else "")


def origin_tag(value: Figure, words: Words) -> str:
    """The tag of a figure that is not the maker's."""
    return {"computed": words("estimate"), "club": words("club’s figure")}.get(value.origin, "")


@dataclass(frozen=True)
class Fact:
    """A figure under a step or beside a row.

    label, value, notes : what it is, set large, and what more is said of it
    own, blank          : this engine's own; nobody gave it: a dotted line, for the maker's manual
    write, asks         : unit of a box to write into below it, None for no box; and what goes in
    """

    label: str = ""
    value: str = ""
    notes: tuple[str, ...] = ()
    tag: str = ""
    own: bool = False
    blank: bool = False
    write: str | None = None
    asks: str = ""


def fact_of(label: str, value: Figure, words: Words, own: bool, notes: Iterable[str] = ()) -> Fact:
    """A figure of the job with where it came from."""
    if value.blank:
        return Fact(label, notes=(words("see the maker’s manual"), *notes), blank=True)
    own = own or value.origin == "deviation"
    return Fact(label, figure(value, words), tuple(notes), origin_tag(value, words), own)


def undecided(mark: ReadingMark, words: Words) -> tuple[str, ...]:
    """Where a gauge cannot decide and one measures again; empty where it can."""
    return (f"{words('measure again')} {figure(of_trade(mark.undecided, words), words)}",) if mark.undecided else ()


def read_before(one: PastReading, words: Words) -> str:
    """An earlier reading, of each place."""
    return " / ".join(figure(value, words) for value in one.values)


def noted(text: str, words: Words) -> str:
    """A setting as it was noted, with the language's decimal sign where the note is a figure."""
    try:
        return wording.quantity(parse_quantity(text), words)
    except QuantityError:
        return text


def thread(name: str, words: Words) -> str:
    """A thread's designation: its figures in the language's way, "left" behind it as a word.

    >>> thread("M10x1.25 left", Words.speaking("de"))
    'M10×1,25 links'
    """
    size, _, left = name.partition(" ")
    return figure(" ".join(filter(None, (words.number(size), words("left") if left else ""))), words)


def day(when: date, words: Words) -> str:
    """A date that cannot be read two ways: its month is a word, in the language's order (Unicode CLDR).

    >>> [day(date(2026, 1, 8), words).replace(HARD, " ") for words in (Words(), Words.speaking("de"))]
    ['8 January 2026', '8. Januar 2026']
    """
    return format_date(when, "long", words.locale).replace(" ", HARD)


def minutes(count: int, words: Words) -> str:
    """A length of time from minutes, by the largest fitting units.

    >>> minutes(95, Words()).replace(HARD, " ")
    '1 h 35 min'
    """
    hours, rest = divmod(count, 60)
    parts = [f"{hours}{HARD}{words('h')}"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}{HARD}{words('min')}")
    return HARD.join(parts)


_DRIVES = {
    "hex": message("{size} hex"),
    "hex-socket": message("{size} hex key"),
    "hexalobular": message("hexalobular {size}"),
    "square": message("{size} square"),
    "slot": message("flat blade"),
    "cross": message("cross {size}"),
    "plug": message("{size} plug socket"),
    "hand": message("by hand"),
}
_SIZES = _DRIVES | {"hex": "{size}", "hex-socket": message("{size} key"), "plug": "{size}", "hand": ""}


def drive(name: str, words: Words) -> str:
    """A screw drive in words: ``hex 17 mm`` is a 17 mm hexagon.

    >>> drive("hex 17 mm", Words()).replace(HARD, " ")
    '17 mm hex'
    """
    kind, _, size = name.partition(" ")
    return figure(words(_DRIVES[kind], size=words.number(size)) if kind in _DRIVES else name, words)


def size_of(name: str, words: Words) -> str:
    """A screw drive by its size alone, as a mechanic asks for it: ``hex 17 mm`` is 17 mm.

    >>> size_of("hex 17 mm", Words()).replace(HARD, " "), size_of("hex-socket 5 mm", Words()).replace(HARD, " ")
    ('17 mm', '5 mm key')
    """
    kind, _, size = name.partition(" ")
    return figure(words(_SIZES[kind], size=words.number(size)), words) if _SIZES.get(kind) else ""


LUBRICATIONS = {
    "dry": message("dry"),
    "oiled": message("oiled"),
    "threadlocker": message("with threadlocker"),
    "anti-seize": message("with anti-seize"),
}
KINDS = {
    "diametral": message("on diameter"),
    "radial": message("radial"),
    "axial": message("along the shaft"),
    "height": message("height"),
    "gap": message("gap"),
    "electrical": message("electrical"),
    "pressure": message("pressure"),
}
"""How a reading is taken, as the models write it."""


def gathered(names: Iterable[str]) -> list[str]:
    """Names that differ in a figure only, joined: sockets of 8 and of 10 mm.

    >>> gathered(["Socket 10 mm", "Pick", "Socket 8 mm", "Wrench 1 to 6 N·m", "Wrench 4 to 25 N·m"])
    ['Socket 8, 10 mm', 'Pick', 'Wrench 1 to 6, 4 to 25 N·m']
    """
    found: dict[tuple[str, str], list[str]] = {}
    for name in names:
        match = _FIGURES.fullmatch(name)
        found.setdefault((match[1], match[3]) if match else (name, ""), []).append(match[2] if match else "")
    number = re.compile(r"[0-9]+(?:\.[0-9]+)?")
    return [
        f"{before}{', '.join(sorted(sizes, key=lambda size: [*map(float, number.findall(size))]))}{after}"
        for (before, after), sizes in found.items()
    ]


def capital(text: str) -> str:
    """A label begins with a capital."""
    return like(text, text[:1].upper() + text[1:])


def counted(name: str, count: int) -> str:
    """A name with how many there are: 2 × carburettor nut."""
    return like(name, f"{count}\u00a0× {name}") if count > 1 else capital(name)
