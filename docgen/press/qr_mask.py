"""The mask of a QR code: the one of least penalty (ISO/IEC 18004:2015, 7.8.3), with the whole symbol as one number.

The library that makes the codes weighs each of eight masks module by module, which takes more than half of the time in
which a sheet is filled. The same penalties come from a few operations on all rows, and on all columns, as one number.
The tests hold the outcome against the library's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

import segno

MASKS = range(8)
NEAR, SQUARE, FINDER, SHADE = 3, 3, 40, 10
"""Penalties N1 to N4: runs of one colour, squares of one colour, what looks like a finder, too dark or too light."""
_LARGEST = 6
"""The largest version that is dealt with here: larger ones bear their version as well."""


def qr_rows(text: str) -> list[str]:
    """The modules of the code for a text, a row a string of 0 and 1; error level M, or higher where that costs nothing.

    Errors: ValueError when the text does not fit a code.
    """
    code = segno.make(text, error="m", micro=False, boost_error=True, mask=0)
    if int(code.version) > _LARGEST:
        code = segno.make(text, error="m", micro=False, boost_error=True)
        return ["".join(map(str, row)) for row in code.matrix]
    size = len(code.matrix)
    first = _whole(code.matrix)
    bare, masked = _bare(size), _masks(int(code.version), str(code.error), text)
    turned = _whole(list(zip(*code.matrix, strict=True)))
    best = min(MASKS, key=lambda n: penalty((first ^ masked[n][0]) & bare, (turned ^ masked[n][1]) & bare, size))
    drawn = format(first ^ masked[best][0], f"0{size * size}b")
    return [drawn[at : at + size] for at in range(0, size * size, size)]


def penalty(rows: int, columns: int, size: int) -> int:
    """The penalty of a symbol of `size` modules a side: all its rows, and all its columns, one behind the other."""
    pairs, fours, sevens, below = _places(size)
    found = SHADE * int(abs(rows.bit_count() / size**2 * 100 - 50) / 5)
    for lines in (rows, columns):
        alike = ~(lines ^ lines >> 1) & pairs
        five = alike & alike >> 1 & alike >> 2 & alike >> 3 & fours
        found += five.bit_count() + (NEAR - 1) * (five & ~(five << 1)).bit_count()
        like = lines & ~(lines >> 1) & lines >> 2 & lines >> 3 & lines >> 4 & ~(lines >> 5) & lines >> 6 & sevens
        found += FINDER * sum(_finders(line) for line in _lines_with(like, lines, size))
    alike = ~(rows ^ rows >> 1) & pairs
    return found + SQUARE * (alike & alike >> size & ~(rows ^ rows >> size) & below).bit_count()


def _lines_with(found: int, lines: int, size: int) -> Iterator[str]:
    whole = (1 << size) - 1
    while found:
        at = (found.bit_length() - 1) // size * size
        yield format(lines >> at & whole, f"0{size}b")
        found &= (1 << at) - 1


def _finders(line: str) -> int:
    """How often dark and light stand as 1:1:3:1:1 in a line, with four light modules, or the edge, at either side."""
    count = 0
    at = line.find("1011101")
    while at != -1:
        end = at + 7
        if at in (0, len(line) - 7) or "1" not in line[max(at - 4, 0) : at] or "1" not in line[end : end + 4]:
            count += 1
        else:
            end = at + 4
        at = line.find("1011101", end)
    return count


@cache
def _places(size: int) -> tuple[int, int, int, int]:
    """Of each line, where two, five and seven modules may begin; and two in a line that has another above it."""

    def each(many: int, lines: int = size) -> int:
        return sum((1 << size - many + 1) - 1 << size * line for line in range(lines))

    return each(2), each(5), each(7), each(2, size - 1)


@cache
def _bare(size: int) -> int:
    """Every module but those that tell mask and level: they are not weighed. The same in rows as in columns."""
    told = {(8, at) for at in (*range(9), *range(size - 8, size))}
    told |= {(at, 8) for _, at in told}
    told -= {(8, 6), (6, 8)}
    return sum(1 << size * size - 1 - (y * size + x) for y in range(size) for x in range(size) if (y, x) not in told)


_KNOWN: dict[tuple[int, str], list[tuple[int, int]]] = {}


def _masks(version: int, error: str, text: str) -> list[tuple[int, int]]:
    """What each mask changes against the first in a code of this size and level, in rows and in columns.

    It is the same for all texts: found out with the first one.
    """
    if (version, error) not in _KNOWN:
        made = [segno.make(text, error="m", micro=False, boost_error=True, mask=mask).matrix for mask in MASKS]
        rows = [_whole(one) for one in made]
        columns = [_whole(list(zip(*one, strict=True))) for one in made]
        _KNOWN[version, error] = [(a ^ rows[0], b ^ columns[0]) for a, b in zip(rows, columns, strict=True)]
    return _KNOWN[version, error]


def _whole(matrix: Sequence[Sequence[int]]) -> int:
    return int("".join("1" if module else "0" for row in matrix for module in row), 2)
