"""How large a finished drawing is, and how large it must be to be read or to fit; a brought one is given its words."""

from __future__ import annotations

import re
from html import escape

from markupsafe import Markup

from docgen.sheets.drawings.canvas import Point, number

DRAWN = 3.6
"""Size of the words in drawings, mm."""


def size(svg: str) -> Point:
    """Width and height of a finished drawing, mm."""
    width, height = (float(found) for found in re.findall(r'(?:width|height)="([0-9.]+)mm"', svg.partition(">")[0]))
    return width, height


def legible(svg: str, least: float, room: float) -> str | None:
    """The drawing as large as its smallest text needs; None where it would have to grow wider than ``room`` mm.

    Drawings are made for a bench 600 mm away, with words of ``DRAWN``; nearer by, they shrink, to three quarters at the
    most. least : size that text must have at least, mm

    >>> legible('<svg width="50mm" height="30mm"><text font-size="3"/></svg>', 4.5, 90).partition(">")[0]
    Markup('<svg width="75mm" height="45mm"')
    """
    smallest = min((float(found) for found in re.findall(r' font-size="([0-9.]+)"', svg)), default=DRAWN)
    scale = max(0.75, least / smallest)
    return None if scale > 1 and size(svg)[0] * scale > room else Markup(_scaled(svg, scale))


def fitted(svg: str, title: str, width: float, height: float) -> str:
    """A drawing that a club brought along, as large as it fits into a frame in mm, with its alternative text.

    >>> fitted('<svg width="90.00mm" height="60.00mm"><g/></svg>', "A & B", 40, 18)
    Markup('<svg role="img" width="27mm" height="18mm"><title>A &amp; B</title><g/></svg>')
    """
    wide, high = size(svg)
    head, _, rest = _scaled(svg, min(width / wide, height / high)).partition(">")
    return Markup(head.replace("<svg", '<svg role="img"', 1) + f"><title>{escape(title)}</title>" + rest)


def _scaled(svg: str, scale: float) -> str:
    wide, high = size(svg)
    sized = f'width="{number(wide * scale)}mm" height="{number(high * scale)}mm"'
    return re.sub(r'width="[0-9.]+mm" height="[0-9.]+mm"', sized, str(svg), count=1)
