"""QR codes: as inline SVG with alternative text, and as a drawing of the press's own on a face.

Source: ISO/IEC 18004 (through the segno library).
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from functools import lru_cache
from html import escape

import segno

from docgen.press.objects import PT_PER_MM
from docgen.press.qr_mask import qr_rows
from docgen.sheets.numbering import Place

QUIET_ZONE = 4  # modules of white around the code that ISO/IEC 18004 asks for
_DARK = re.compile("1+")


def qr_svg(data: str, *, alt: str = "", error: str = "m", quiet: int = QUIET_ZONE) -> str:
    """An `<svg>` that fills the box it is put in; its drawing is `quiet` modules of white wider on each side.

    `data` is best kept to upper-case letters, digits and `$%*+-./:` and blanks, which need a smaller code.
    The error level is raised where that costs no larger code. Raises ValueError when the data do not fit a code.
    """
    code = segno.make(data, error=error, micro=False, boost_error=True)
    out = io.BytesIO()
    code.save(out, kind="svg", xmldecl=False, svgns=True, omitsize=True, border=quiet, dark="#000", light=None)
    body = out.getvalue().decode().strip()
    start, end = body.index(">") + 1, body.rindex("</svg>")
    title = escape(alt or f"QR code: {data}")
    opening = body[: start - 1]
    return f'{opening} role="img" shape-rendering="crispEdges"><title>{title}</title>{body[start:end]}</svg>'


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
    drawn = (
        f"{told[dark.start()]} {told[y]} {told[dark.end() - dark.start()]} {told[1]} re"
        for y, row in enumerate(rows)
        for dark in _DARK.finditer(row)
    )
    return "\n".join(["0 g", *drawn, "f"]).encode()
