"""A drawing that a procedure brought along: cleaned when it was read, given its words here."""

from __future__ import annotations

import re
from html import escape

from markupsafe import Markup


def titled(svg: str, title: str) -> str:
    """The drawing with its alternative text.

    >>> titled('<svg width="9mm"><g/></svg>', "A & B")
    Markup('<svg role="img" width="9mm"><title>A &amp; B</title><g/></svg>')
    """
    head, end, rest = svg.partition(">")
    return Markup(head.replace("<svg", '<svg role="img"', 1) + end + f"<title>{escape(title)}</title>" + rest)


def fitted(svg: str, title: str, width: float, height: float) -> str:
    """The same, as large as it fits into a frame in mm.

    >>> fitted('<svg width="90.00mm" height="60.00mm"><g/></svg>', "Club", 40, 18).partition(">")[0]
    Markup('<svg role="img" width="27.00mm" height="18.00mm"')
    """
    given = [float(size) for size in re.findall(r'(?:width|height)="([0-9.]+)mm"', svg.partition(">")[0])]
    scale = min(width / given[0], height / given[1])
    sized = f'width="{given[0] * scale:.2f}mm" height="{given[1] * scale:.2f}mm"'
    return titled(re.sub(r'width="[0-9.]+mm" height="[0-9.]+mm"', sized, svg, count=1), title)
