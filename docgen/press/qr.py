"""A QR code as inline SVG, with alternative text. Source: ISO/IEC 18004 (through the segno library)."""

from __future__ import annotations

import io
from html import escape

import segno

QUIET_ZONE = 4  # modules of white around the code that ISO/IEC 18004 asks for


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
