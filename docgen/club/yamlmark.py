"""Where a YAML event stands, in lines and columns from 1."""

from __future__ import annotations

from typing import NamedTuple

import yaml


class Piece(NamedTuple):
    """One text (scalar) of a file, with its place: from `line`, `col` up to, not including, `end_col` on `end_line`."""

    text: str
    style: str
    line: int
    col: int
    end_line: int
    end_col: int

    @property
    def plain(self) -> bool:
        """Whether it stands without quotes."""
        return self.style == ""


def row(lines: list[str], number: int) -> str:
    """Line `number` (from 1); empty where there is none, as behind the end of the file."""
    return lines[number - 1] if 1 <= number <= len(lines) else ""


def start(event: yaml.Event) -> tuple[int, int]:
    """Line and column where the event begins."""
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


def end(event: yaml.Event) -> tuple[int, int]:
    """Line and column just behind the event."""
    mark = event.end_mark
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


def piece(event: yaml.ScalarEvent) -> Piece:
    """The scalar of an event."""
    return Piece(event.value, event.style or "", *start(event), *end(event))
