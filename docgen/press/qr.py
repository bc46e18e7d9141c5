"""QR codes: as a picture, and as a drawing of the press's own on a face. Source: ISO/IEC 18004 (through segno).

The mask of a code is the one of least penalty (ISO/IEC 18004:2015, 7.8.3). Segno weighs each of eight masks module by
module, which takes as long as all else in which a sheet is filled; the same penalties come from a few operations on
all rows, and on all columns, as one number. The tests hold the outcome against segno's own.
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from html import escape

import segno

from docgen.press.meta import PT_PER_MM
from docgen.sheets.page import Place

NEAR, SQUARE, FINDER, SHADE = 3, 3, 40, 10
"""Penalties N1 to N4: runs of one colour, squares of one colour, what looks like a finder, too dark or too light."""
_LARGEST = 6
"""The largest version that is weighed here: larger ones bear their version as well."""
_APART = 4
"""Light modules behind each row and column, where they stand one behind the other: there are as many round a code."""
_DARK = re.compile("1+")


def qr_svg(text: str) -> str:
    """The code for a text as `<svg>`, as large as the box that it is put in, with no white round it.

    `text` is best kept to upper-case letters, digits and `$%*+-./:` and blanks, which need a smaller code.
    Errors: ValueError when it does not fit a code.
    """
    rows = qr_rows(text)
    path = "".join(f"M{x} {y}h{long}v1h-{long}z" for x, y, long in _runs(rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {len(rows)} {len(rows)}" role="img" '
        f'shape-rendering="crispEdges"><title>QR code: {escape(text)}</title><path d="{path}"/></svg>'
    )


def codes_drawing(codes: Iterable[tuple[str, Place]]) -> bytes:
    """The codes of a face, as one part of its drawing that is no content (ISO 14289-1, 7.1)."""
    out = []
    for text, place in codes:
        left, top, size = (value * PT_PER_MM for value in (place.left, place.top, place.size))
        out += [b"/Artifact BMC q 1 0 0 1 %.3f %.3f cm" % (left, top), qr_drawing(text, round(size, 3)), b"Q EMC"]
    return b"\n".join(out)


@lru_cache(maxsize=64)
def qr_drawing(text: str, size: float) -> bytes:
    """A code as drawing operators: its dark modules as one black shape, in a square of `size` from 0, 0 down.

    The y axis points down, as on a page of WeasyPrint's. There is no white round it: that is the sheet's affair.
    """
    rows = qr_rows(text)
    side = size / len(rows)
    told = [f"{at * side:.3f}" for at in range(len(rows) + 1)]
    drawn = (f"{told[x]} {told[y]} {told[long]} {told[1]} re" for x, y, long in _runs(rows))
    return "\n".join(["0 g", *drawn, "f"]).encode()


def _runs(rows: Sequence[str]) -> Iterable[tuple[int, int, int]]:
    """Where dark modules begin that stand side by side, and how many they are."""
    return (
        (dark.start(), y, dark.end() - dark.start()) for y, row in enumerate(rows) for dark in _DARK.finditer(row)
    )


def qr_rows(text: str) -> list[str]:
    """The modules of the code for a text, a row a string of 0 and 1; error level M, or higher where that costs nothing.

    Errors: ValueError when the text does not fit a code.
    """
    code = segno.make(text, error="m", micro=False, boost_error=True, mask=0)
    if int(code.version) > _LARGEST:
        code = segno.make(text, error="m", micro=False, boost_error=True)
        return ["".join(map(str, row)) for row in code.matrix]
    size, first = len(code.matrix), _both(code.matrix)
    bare = _bare(size)
    masked = [(first[0] ^ a, first[1] ^ b) for a, b in _masks(int(code.version), str(code.error), text)]
    rows, _ = min(masked, key=lambda one: penalty(one[0] & bare, one[1] & bare, size))
    told, step = format(rows, f"0{size * (size + _APART)}b"), size + _APART
    return [told[at : at + size] for at in range(0, size * step, step)]


def penalty(rows: int, columns: int, size: int) -> int:
    """The penalty of a symbol of `size` modules a side: all its rows, and all its columns, one behind the other."""
    found = SHADE * int(abs(rows.bit_count() / size**2 * 100 - 50) / 5)
    pairs, step = _pairs(size), size + _APART
    for lines in (rows, columns):
        alike = ~(lines ^ lines >> 1) & pairs
        five = alike & alike >> 1 & alike >> 2 & alike >> 3
        found += five.bit_count() + (NEAR - 1) * (five & ~(five << 1)).bit_count()
        like = lines & ~(lines >> 1) & lines >> 2 & lines >> 3 & lines >> 4 & ~(lines >> 5) & lines >> 6
        before = lines >> 7 | lines >> 8 | lines >> 9 | lines >> 10
        behind = lines << 1 | lines << 2 | lines << 3 | lines << 4
        like &= ~before | ~behind
        found += FINDER * (like & ~(like >> 4 | like >> 6)).bit_count()
    alike = ~(rows ^ rows >> 1) & pairs
    return found + SQUARE * (alike & alike >> step & ~(rows ^ rows >> step)).bit_count()


@cache
def _pairs(size: int) -> int:
    """The second of each two modules that stand side by side in a line."""
    return sum((1 << size - 1) - 1 << (size + _APART) * line + _APART for line in range(size))


@cache
def _bare(size: int) -> int:
    """Every module but those that tell mask and level: they are not weighed. The same in rows as in columns."""
    told = {(8, at) for at in (*range(9), *range(size - 8, size))}
    told |= {(at, 8) for _, at in told}
    told -= {(8, 6), (6, 8)}
    return _whole([[(y, x) not in told for x in range(size)] for y in range(size)])


_KNOWN: dict[tuple[int, str], list[tuple[int, int]]] = {}


def _masks(version: int, error: str, text: str) -> list[tuple[int, int]]:
    """What each mask changes against the first in a code of this size and level, in rows and in columns.

    It is the same for all texts: found out with the first one.
    """
    if (version, error) not in _KNOWN:
        made = [_both(segno.make(text, error="m", micro=False, boost_error=True, mask=n).matrix) for n in range(8)]
        _KNOWN[version, error] = [(a ^ made[0][0], b ^ made[0][1]) for a, b in made]
    return _KNOWN[version, error]


def _both(matrix: Sequence[Sequence[int]]) -> tuple[int, int]:
    return _whole(matrix), _whole(list(zip(*matrix, strict=True)))


def _whole(matrix: Sequence[Sequence[int]]) -> int:
    """Lines one behind the other as one number, the first module its highest digit."""
    return int("".join("1" if module else "0" for line in matrix for module in (*line, *[0] * _APART)), 2)
