"""A file that was read: its plain data, and where in the file each piece of it stands."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from docgen.club.problem import Level, Problem

Loc = tuple[str | int, ...]
"""The way to a value from the top of the file: keys and list indices (from 0)."""
Position = tuple[int, int]
"""Line and column, both from 1."""
Data = dict[str, "Data"] | list["Data"] | str | None
"""What a file holds. Every scalar is text as written; only an empty value is None."""


@dataclass(frozen=True)
class Document:
    """One file as plain data with positions."""

    path: str
    text: str
    data: Data
    values: Mapping[Loc, Position] = field(repr=False)
    keys: Mapping[Loc, Position] = field(repr=False)

    @cached_property
    def stamp(self) -> str:
        """A digest over its path and every character of it."""
        return hashlib.sha256(f"{self.path}\n{self.text}".encode()).hexdigest()

    @cached_property
    def lines(self) -> list[str]:
        """The lines of the file, without their ends."""
        return self.text.split("\n")

    def at(self, loc: Loc) -> Position:
        """Where the value at `loc` stands; for what is not in the file, where its nearest parent stands."""
        while loc not in self.values and loc:
            loc = loc[:-1]
        return self.values.get(loc, (1, 1))

    def key_at(self, loc: Loc) -> Position:
        """Where the key (or list item) at `loc` stands; for what is not in the file, its nearest parent's key."""
        while loc and loc not in self.keys:
            if loc in self.values:
                return self.values[loc]
            loc = loc[:-1]
        return self.keys.get(loc, self.values.get((), (1, 1)))

    def problem(
        self,
        loc: Loc,
        name: str,
        message: str,
        hint: str = "",
        *,
        key: bool = False,
        level: Level = "error",
        trail: tuple[str, ...] = (),
    ) -> Problem:
        """A finding at the value at `loc` (or at its key), with position and source line filled in."""
        line, col = self.key_at(loc) if key else self.at(loc)
        return Problem(self.path, line, col, name, message, hint, self.line(line), level, trail)

    def line(self, number: int) -> str:
        """Line `number` (from 1) as it stands in the file; empty when there is no such line."""
        lines = self.lines
        return lines[number - 1] if 1 <= number <= len(lines) else ""
