"""A place where the parser gave up on a file: what it saw there, and what we make of it."""

from __future__ import annotations

import re
from typing import NamedTuple

import yaml

from docgen.club.yamlbytes import STAND_IN, Fault
from docgen.club.yamlevents import Builder
from docgen.club.yamlmark import Piece, piece, row

_LEAD = re.compile(r"\s*(?:- +)*")


class Repair(NamedTuple):
    """Characters to put over those at a place, so that the rest of the file can be checked."""

    line: int
    col: int
    text: str


class Diagnosis(NamedTuple):
    """What is wrong, and how to get past it; without a repair the rest of the file stays unread."""

    fault: Fault
    repair: Repair | None = None


class Site(NamedTuple):
    """Where and how the parser gave up: the place, the place where what it was reading began, and what came before."""

    line: int
    col: int
    from_line: int
    from_col: int
    context: str
    problem: str
    built: Builder

    @property
    def lines(self) -> list[str]:
        return self.built.lines

    def row(self, number: int) -> str:
        """Line `number` of the file; empty past its end."""
        return row(self.lines, number)

    @property
    def char(self) -> str:
        """The character at which the parser gave up; empty at the end of a line."""
        return self.row(self.line)[self.col - 1 : self.col]

    @property
    def first(self) -> bool:
        """Whether nothing but blanks stands before the place on its line."""
        return not self.row(self.line)[: self.col - 1].strip()

    @property
    def scalar(self) -> Piece | None:
        """The text that was read last, if a text was what was read last."""
        return piece(self.built.last) if isinstance(self.built.last, yaml.ScalarEvent) else None

    @property
    def flow(self) -> bool:
        """Whether the place stands inside brackets or braces."""
        return bool(self.built.stack) and self.built.stack[-1].flow


def masked(fault: Fault, length: int = 1) -> Diagnosis:
    """A fault that is got past by putting a stand-in over the characters where it stands."""
    return Diagnosis(fault, Repair(fault.line, fault.col, STAND_IN * length))


def indent(row: str) -> int:
    """How many blanks stand before the text of a line."""
    return len(row) - len(row.lstrip())


def key_column(row: str) -> int:
    """How many characters stand before the key of a line: its indent, and the dashes of the list items it begins."""
    found = _LEAD.match(row)
    return found.end() if found else 0


def unknown(site: Site) -> Diagnosis:
    """A place for which there are no better words."""
    line = min(site.line, len(site.lines))
    message = "from here on the file cannot be read: quotes, brackets or indents do not fit together"
    hint = "compare this line and the one above it with those of a file that works"
    return Diagnosis(Fault(line, site.col, "not-yaml", message, hint))
