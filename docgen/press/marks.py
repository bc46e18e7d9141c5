"""The marked content of a page's drawing (ISO 32000-1, 14.6), put right token by token."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pydyf

_PAINTS = {b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"EI"}
_PAINTS_WITH = (b"TJ", b"Tj", b" Do", b" sh")


@dataclass(slots=True)
class _Open:
    """A mark that has begun: where it was written, its number, and whether anything is painted in it so far."""

    start: int
    mcid: int | None = None
    dropped: bool = False
    painted: bool = False


def tidy(stream: pydyf.Stream, artifacts: Mapping[int, str], spare: set[int], height: float) -> set[int]:
    """Mend a page's marks in place; the numbers of the marks that went.

    Marks in `artifacts` (number to type: Pagination or Layout) become artifacts. Marks in `spare` go when nothing is
    painted in them. An artifact inside tagged content, such as the rule under a text, becomes part of that content.
    `height` is the page's, in CSS pixels: it tells running heads from feet.
    """
    out: list[Any] = []
    opened: list[_Open] = []
    gone: set[int] = set()
    tokens = stream.stream
    for at, token in enumerate(tokens):
        if token in (b"BMC", b"BDC"):
            details = out.pop() if token == b"BDC" else None
            tag = out.pop()
            mcid = details.get("MCID") if details else None
            inside_tag = any(mark.mcid is not None for mark in opened)
            if mcid is not None and mcid in artifacts:
                opened.append(_Open(len(out)))
                details = _artifact(artifacts[mcid], tokens, at, height)
                out += ["/Artifact", details, b"BDC"]
            elif tag == "/Artifact" and inside_tag:
                opened.append(_Open(len(out), dropped=True))
            else:
                opened.append(_Open(len(out), mcid))
                out += [tag, token] if details is None else [tag, details, token]
        elif token == b"EMC":
            mark = opened.pop()
            if mark.painted and opened:
                opened[-1].painted = True
            if mark.mcid in spare and not mark.painted:
                gone.add(mark.mcid)
                del out[mark.start : mark.start + 3]  # colours set within stay: what follows counts on them
            elif not mark.dropped:
                out.append(token)
        else:
            if opened and isinstance(token, bytes) and (token in _PAINTS or token.endswith(_PAINTS_WITH)):
                opened[-1].painted = True
            out.append(token)
    stream.stream[:] = out
    return gone


def _artifact(kind: str, tokens: list[Any], at: int, height: float) -> pydyf.Dictionary:
    """ISO 14289-1, 7.8: furniture is said to be a header or a footer."""
    details = pydyf.Dictionary({"Type": f"/{kind}"})
    if kind == "Pagination":
        for token in tokens[at:]:
            if isinstance(token, bytes) and token.endswith((b" Tm", b" cm")):
                details["Subtype"] = "/Header" if float(token.split()[5]) < height / 2 else "/Footer"
                break
    return details
