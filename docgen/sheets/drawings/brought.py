"""A drawing that a procedure brought along: cleaned when it was read, given its words here."""

from __future__ import annotations

from html import escape

from markupsafe import Markup


def titled(svg: str, title: str) -> str:
    """The drawing with its alternative text.

    >>> titled('<svg width="9mm"><g/></svg>', "A & B")
    Markup('<svg role="img" width="9mm"><title>A &amp; B</title><g/></svg>')
    """
    head, end, rest = svg.partition(">")
    return Markup(head.replace("<svg", '<svg role="img"', 1) + end + f"<title>{escape(title)}</title>" + rest)
