"""Hazard statements of Regulation (EC) No 1272/2008 (CLP): their standard words, signal word, and source.

The words of a statement are those of the regulation's Annex III. Where the source names a table of Annex I, it was read
in a copy of the consolidated text; every other line is from memory, as are the letters behind a code.
"""

import re
from dataclasses import dataclass
from functools import cache

from docgen.trade.tables import read_table

MEMORY = "from memory"
_ONE = r"[Hh]\d{2,}[A-Za-z]{0,2}"
_CODES = re.compile(rf"({_ONE}(?:\s*\+\s*{_ONE})*)\b\W*")
_LETTERED = re.compile(r"(H36[01])(?:[DF]|[df]|FD|Fd|Df|fd)|(H350)i")
"""Codes whose letters say more closely what is harmed, or by which way: same signal word, same picture."""


@dataclass(frozen=True)
class Statement:
    """One statement. ``signal`` is danger, warning or empty; ``source`` a table of Annex I, or "from memory"."""

    code: str
    text: str
    signal: str
    symbol: str
    source: str

    @property
    def table(self) -> str:
        """Where it was read; empty where it is from memory."""
        return self.source if self.source != MEMORY else ""


@cache
def statements() -> dict[str, Statement]:
    """The statements by their codes.

    Errors: none. Source: each row's own.

    >>> statements()["H222"].text, statements()["H222"].table != ""
    ('Extremely flammable aerosol', True)
    """
    return {row["code"]: Statement(**row) for row in read_table("hazard_statements")}


def codes(written: str) -> list[str]:
    """The single codes of a statement that may join several.

    Errors: none; what is no code comes back as it is. Source: the way of writing of Annex III.

    >>> codes("H302 + H332"), codes("H222"), codes("")
    (['H302', 'H332'], ['H222'], [])
    """
    return [part for one in written.split("+") if (part := one.strip())]


def statement(code: str) -> Statement | None:
    """What a single code stands for; None where the table has no such code.

    Errors: none.
    Source: each row's own; that letters behind a code change neither signal word nor picture is from memory.

    >>> [one.signal if (one := statement(code)) else None for code in ("H222", "H360FD", "H999")]
    ['danger', 'danger', None]
    """
    match = _LETTERED.fullmatch(code)
    return statements().get(next(filter(None, match.groups())) if match else code)


def split(classed: str) -> tuple[str, str]:
    """A line of a register in code and text; the code is empty where it begins with none.

    Errors: none. Source: the way of writing of Annex III.

    >>> split("H222 Extremely flammable aerosol"), split("H302 + H332 Harmful"), split("Irritant")
    (('H222', 'Extremely flammable aerosol'), ('H302 + H332', 'Harmful'), ('', 'Irritant'))
    """
    match = _CODES.match(classed)
    return (match[1], classed[match.end() :]) if match else ("", classed)
