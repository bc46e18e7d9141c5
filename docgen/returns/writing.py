"""What is written into the other boxes of a sheet: text, ticks, dates, hours."""

import re
import unicodedata
from datetime import date
from decimal import Decimal
from functools import cache

from docgen.club.catalogue import languages
from docgen.club.text import ODD_SPACE, look_alike_digit, without_unwanted
from docgen.returns.diagnostic import Refused
from docgen.returns.numbers import Figure, read_figure
from docgen.trade.quantity import Quantity

OFF = frozenset({"", "off", "no", "false", "0"})
NONE = frozenset({"none", "nothing", "no", "nil", "n/a", "-", "–", "—", "none."})
"""What people write under findings when there were none."""


@cache
def _months() -> frozenset[tuple[str, int]]:
    """The names of the months, with their numbers, in every language that the program prints."""
    from babel.dates import get_month_names

    named = (get_month_names("wide", locale=language.replace("-", "_")) for language in languages())
    return frozenset((name.casefold(), number) for names in named for number, name in names.items())


def ticked(value: str) -> bool:
    """Whether a tick box is on: viewers write ``on``, ``Yes`` or a name of their own, and ``Off`` when it is not."""
    return value.strip().lstrip("/").casefold() not in OFF


def one_line(text: str) -> str:
    """A text of one line, without what cannot be seen or stored.

    >>> one_line("  Zoë\\u200b  K\\u0151szegi \\r\\n")
    'Zoë Kőszegi'
    """
    return " ".join(_clean(text).split())


def lines(text: str) -> tuple[str, ...]:
    """The lines of a longer text that say anything."""
    return tuple(line for raw in _clean(text).split("\n") if (line := " ".join(raw.split())))


def _clean(text: str) -> str:
    """Composed characters, plain line ends and blanks; characters that the record refuses are taken out."""
    text = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n").replace("\t", " "))
    text = without_unwanted(text.replace("\u2028", "\n").replace("\u2029", "\n"), "\x00")
    text = ODD_SPACE.sub(" ", text.replace("\x00", ""))
    if all(look_alike_digit(line) is None for line in text.split("\n")):
        return text
    return "".join(str(unicodedata.digit(char)) if char.isdecimal() else char for char in text)


def read_date(text: str) -> tuple[date | None, str]:
    """A date as people write it, and what to say when it was not written year-month-day; None for an empty box.

    Errors: Refused ``not-a-date``, ``two-ways-to-read`` for days and months that could change places.

    Of a year in two figures the century is this one, and it is said what was understood.

    >>> read_date("29.11.26")
    (datetime.date(2026, 11, 29), '"29.11.26" understood as 2026-11-29')
    >>> read_date("20.2.2027")
    (datetime.date(2027, 2, 20), '"20.2.2027" understood as 2027-02-20')
    >>> read_date("3. März 2027")[0], read_date("3 Mar 2027")[0]
    (datetime.date(2027, 3, 3), datetime.date(2027, 3, 3))
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).split())
    if not plain:
        return None, ""
    found = _date_in(plain)
    said = "" if plain == found.isoformat() else f'"{plain}" understood as {found.isoformat()}'
    return found, said


def _date_in(plain: str) -> date:
    try:
        if match := re.fullmatch(r"(\d{4})[-./ ](\d{1,2})[-./ ](\d{1,2})", plain):
            return date(int(match[1]), int(match[2]), int(match[3]))
        if match := re.fullmatch(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})", plain):
            return date(int(match[3]) + (2000 if len(match[3]) == 2 else 0), int(match[2]), int(match[1]))
        if match := re.fullmatch(r"(\d{1,2})[/-](\d{1,2})[/-](\d{4})", plain):
            return _either_way(plain, int(match[1]), int(match[2]), int(match[3]))
        if match := re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th|\.)? ([^\W\d_]{3,14})\.?,? (\d{4})", plain):
            return date(int(match[3]), _month(match[2]), int(match[1]))
        if match := re.fullmatch(r"([A-Za-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})", plain):
            return date(int(match[3]), _month(match[1]), int(match[2]))
    except ValueError:
        pass
    raise Refused("not-a-date", f'"{plain[:40]}" is not a date', "write year-month-day, as in 2027-03-14")


def _either_way(plain: str, first: int, second: int, year: int) -> date:
    if first <= 12 and second <= 12 and first != second:
        one, other = date(year, second, first).isoformat(), date(year, first, second).isoformat()
        raise Refused("two-ways-to-read", f'"{plain}" may be {one} or {other}', "write year-month-day")
    return date(year, second, first) if second <= 12 else date(year, first, second)


def month_named(name: str) -> int | None:
    """The number of the month of this name, or of a beginning of it of three letters or more; None where there is none.

    >>> month_named("Sept"), month_named("März"), month_named("chain")
    (9, 3, None)
    """
    try:
        return _month(name) if len(name) >= 3 else None
    except ValueError:
        return None


def _month(name: str) -> int:
    found = {number for month, number in _months() if month.startswith(name.casefold())}
    if len(found) != 1:
        raise ValueError(name)
    return found.pop()


def read_hours(text: str) -> Figure:
    """Engine hours: ``12.4``, ``12,4 h``, ``12 h 24 min``, ``12:24``.

    Errors: those of :func:`docgen.returns.numbers.read_figure`.

    >>> print(read_hours("12:24").quantity, "|", read_hours("12 h 20 min").quantity)
    12.4 h | 740 min
    """
    plain = " ".join(unicodedata.normalize("NFKC", text).split())
    match = re.fullmatch(r"(\d{1,5}) ?(?:h|:) ?([0-5]?\d)(?: ?min)?", plain)
    if match is None:
        return read_figure(text, "h")
    minutes = 60 * int(match[1]) + int(match[2])
    found = Quantity(Decimal(minutes), "min") if minutes % 3 else Quantity(Decimal(minutes) / 60, "h")
    return Figure(found, f'"{text.strip()}" understood as {found}')
