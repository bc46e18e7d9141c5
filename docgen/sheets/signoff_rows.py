"""How the sign-off sheet's tables are set closer and in parts, so that they take less paper and break between rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import zip_longest

from docgen.club.words import Words
from docgen.sheets.tables import Column, Entry, Field, Table, Told

CHUNK = 2
"""Rows of a table that stay together."""
BESIDE = 2
"""Boxes of one reading that stand in its row; more of them stand below it."""
PAIRED = 6
"""Rows of a table from which on two stand side by side."""
SHARES = (26, 19, 16, 18)
"""Shares of the columns of parts renewed, where two rows stand side by side."""


def closer(table: Table, words: Words, *, visit: bool = False) -> Table:
    """Jobs, many parts renewed and a visit's checks and readings in two columns; many boxes of one reading in a row of
    their own below it."""
    if visit and table.key == "readings":
        return _paired_readings(table, words)
    if visit and table.key == "renewed":
        return _paired(*_with_numbers(table))
    if table.key == "renewed" and len(table.rows) > PAIRED:
        number, *others = table.columns
        return _paired(table, (number, *(replace(one, share=s) for one, s in zip(others, SHARES, strict=True))))
    if table.key == "jobs" or (visit and table.key in ("closing", "after-run")):
        return _paired(table, table.columns)
    return replace(table, rows=tuple(row for one in table.rows for row in _with_boxes_below(one, words)))


def _paired_readings(table: Table, words: Words) -> Table:
    """What is accepted and what was read last stand behind the reading's name; those with many boxes come last."""
    number, reading, last, accept, now = table.columns
    head = replace(reading, head=f"{reading.head} · {accept.head} · {last.head}", share=56)
    few: list[tuple[Entry, ...]] = []
    many: list[tuple[Entry, ...]] = []
    for row_number, name, was, allowed, boxes in table.rows:
        assert isinstance(name, Told)
        assert isinstance(was, Told)
        assert isinstance(allowed, Told)
        told = (replace(name, bold=False), allowed, was)
        if isinstance(boxes, tuple) and len(boxes) > BESIDE:
            many += [(row_number, told, Told(words("below")), Told(), Told(), Told()), (boxes,)]
        else:
            few.append((row_number, told, boxes))
    half = (replace(number, share=10.5), head, replace(now, share=25))
    pairs = _paired(replace(table, columns=half, rows=tuple(few)), half)
    return replace(pairs, rows=(*pairs.rows, *many))


def _with_numbers(table: Table) -> tuple[Table, tuple[Column, ...]]:
    """Parts renewed with their numbers behind their names."""
    number, part, part_number, renewed, fitted = table.columns
    half = (replace(number, share=12), replace(part, head=f"{part.head} · {part_number.head}", share=46), renewed,
            replace(fitted, share=22))  # fmt: skip
    rows: list[tuple[Entry, ...]] = []
    for row_number, name, its_number, *boxes in table.rows:
        assert isinstance(name, Told)
        assert isinstance(its_number, Told)
        rows.append((row_number, (name, its_number), *boxes))
    return replace(table, columns=half, rows=tuple(rows)), half


def _paired(table: Table, half: tuple[Column, ...]) -> Table:
    left = (len(table.rows) + 1) // 2
    pairs = zip_longest(table.rows[:left], table.rows[left:], fillvalue=(Told(),) * len(half))
    return replace(table, columns=half + half, rows=tuple(a + b for a, b in pairs))


def _with_boxes_below(row: tuple[Entry, ...], words: Words) -> Iterator[tuple[Entry, ...]]:
    boxes = row[-1]
    if isinstance(boxes, tuple) and len(boxes) > BESIDE and all(isinstance(one, Field) and one.label for one in boxes):
        yield (*row[:-1], Told(words("below")))
        yield (boxes,)
    else:
        yield row


def parted(table: Table) -> Iterator[Table]:
    """A table in parts, each of which stays on one face; the later ones have no title of their own."""
    own = [n for n, row in enumerate(table.rows) if len(row) == len(table.columns)]
    for first in range(0, len(own), CHUNK):
        start, end = own[first], (own[first + CHUNK :] or [len(table.rows)])[0]
        part = replace(table, rows=table.rows[start:end])
        yield part if start == 0 else replace(part, title="", note="")  # its heads stand at the top of a face only
