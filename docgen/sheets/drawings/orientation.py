"""Which way round a part goes: from its stated face and shape to the drawing that shows it."""

from __future__ import annotations

import re
from collections.abc import Mapping

from docgen.sheets.drawings.profiles import PROFILES
from docgen.sheets.drawings.section import section
from docgen.sheets.drawings.views import view

_OTHER_SIDE = re.compile(
    r"\b(flat|plain|unmarked|smooth|back|closed|round(ed)?|domed|convex|crown(ed)?)\b", re.IGNORECASE
)
"""Words for the side that is not the telling one."""
_TELLS_ALL_THE_SAME = {"circlip": re.compile(r"\bsharp\b"), "chain-clip": re.compile(r"\bclosed\b"),
                       "reed": re.compile(r"."), "block": re.compile(r"."), "lever": re.compile(r".")}


def telling_side_faces(kind: str, face: str) -> bool:
    """Whether the face that is named is the telling one of its kind (chamfer, mark, shoulder, lip, hollow side).

    >>> telling_side_faces("washer", "chamfered face"), telling_side_faces("washer", "flat face")
    (True, False)
    """
    same = _TELLS_ALL_THE_SAME.get(kind)
    return bool(same and same.search(face)) or not _OTHER_SIDE.search(face)


def orientation_picture(name: str, face: str, towards: str, shape: Mapping[str, str]) -> str:
    """The drawing for one orientation.

    name, face, towards : as the model has them; they make the alternative text
    shape               : ``kind`` and stated sizes (outer, inner, thick, chamfer); a block when nothing is stated
    """
    kind = shape.get("kind", "block")
    title = f"{name}: {face} towards {towards}"
    faces = telling_side_faces(kind, face)
    if kind in PROFILES:
        rim = bool(re.search(r"\b(outer|rim|outside)\b", face))
        return section(kind, shape, telling_side_faces=faces, rim=rim, title=title)
    return view(kind, telling_side_faces=faces, title=title)
