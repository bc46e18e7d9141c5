"""Hazard statements of Regulation (EC) No 1272/2008 (CLP): their standard words, signal word, and source.

The words of a statement are those of the regulation's Annex III. Where the source names a table of Annex I, it was read
in a copy of the consolidated text; every other line is from memory.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

MEMORY = "from memory"
_CODE = re.compile(r"(H\d{3})\b\W*")


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
    """The statements by their codes."""
    table = (files("docgen.trade.tables") / "hazard_statements.csv").read_text("utf-8")
    return {row["code"]: Statement(**row) for row in csv.DictReader(table.splitlines())}


def split(classed: str) -> tuple[str, str]:
    """A line of a register in code and text; the code is empty where it begins with none.

    >>> split("H222 Extremely flammable aerosol"), split("Irritant")
    (('H222', 'Extremely flammable aerosol'), ('', 'Irritant'))
    """
    match = _CODE.match(classed)
    return (match[1], classed[match.end() :]) if match else ("", classed)
