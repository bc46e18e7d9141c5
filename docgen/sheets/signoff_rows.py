"""How the sign-off sheet's tables are set closer and in parts, so that they take less paper and break between rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import zip_longest

from docgen.sheets.tables import Column, Entry, Table, Told
from docgen.sheets.words import Words

CHUNK = 2
"""Rows of a table that stay together."""
BESIDE = 2
"""Boxes of one reading that stand in its row; more of them stand below it."""
PAIRED, SHARES = 6, (26, 19, 16, 18)
"""Parts renewed from which on two stand in a row, and the shares of their columns."""


def closer(table: Table, words: Words) -> Table:
    """Jobs, and many parts renewed, in two columns; many boxes of one reading in a row of their own below it."""
    if table.key == "renewed" and len(table.rows) > PAIRED:
        number, *others = table.columns
        return _paired(table, (number, *(replace(one, share=s) for one, s in zip(others, SHARES, strict=True))))
    if table.key == "jobs":
        return _paired(table, table.columns)
    return replace(table, rows=tuple(row for one in table.rows for row in _with_boxes_below(one, words)))


def _paired(table: Table, half: tuple[Column, ...]) -> Table:
    left = (len(table.rows) + 1) // 2
    pairs = zip_longest(table.rows[:left], table.rows[left:], fillvalue=(Told(),) * len(half))
    return replace(table, columns=half + half, rows=tuple(a + b for a, b in pairs))


def _with_boxes_below(row: tuple[Entry, ...], words: Words) -> Iterator[tuple[Entry, ...]]:
    boxes = row[-1]
    if isinstance(boxes, tuple) and len(boxes) > BESIDE and all(one.label for one in boxes):
        yield (*row[:-1], Told(words.below))
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
