"""Which way round a part goes: from its stated face and shape to the drawing that shows it.

A wrong picture is worse than none. The shape of a part is drawn only when the words for its face say which of its two
sides is meant; otherwise a plain block is drawn, whose heavy edge stands for the face that is named.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from docgen.sheets.drawings.profiles import PROFILES, length
from docgen.sheets.drawings.section import section
from docgen.sheets.drawings.views import view

_FLAT = r"flat|plain|smooth|straight"
_SIDES: dict[str, tuple[str, str]] = {
    "washer": (r"chamfer\w*|bevel\w*|countersunk", rf"{_FLAT}|sharp"),
    "dished-washer": (r"hollow|dished|concave|inner", r"domed|convex|crowned|outer"),
    "bearing": (r"mark\w*|letter\w*|number\w*|stamp\w*|engrav\w*", r"unmarked|plain"),
    "drum": (r"open|inside", r"closed|outside|bottom"),
    "gear": (r"shoulder|boss|hub|collar|raised", rf"{_FLAT}"),
    "sprocket": (r"shoulder|boss|hub|collar|raised", rf"{_FLAT}"),
    "nut": (r"flange|collar", rf"{_FLAT}|chamfer\w*"),
    "seal": (r"lip|open|spring", r"closed|flat|back|mark\w*|number\w*"),
    "circlip": (r"sharp|square", r"rounded|round"),
    "sleeve": (r"chamfer\w*|bevel\w*", rf"{_FLAT}|sharp"),
    "pin": (r"tip|point\w*|cone", r"flat|blunt|tail"),
    "piston": (r"arrow|mark\w*", r"(?!)"),
    "ring": (r"mark\w*|letter\w*|dot\w*|number\w*", r"unmarked|plain"),
    "gasket": (r"bead|print\w*|raised|coated|mark\w*", rf"{_FLAT}|unmarked"),
    "diaphragm": (r"long|rivet|button|pin", rf"{_FLAT}|short"),
    "cover": (r"rim|open|inside", r"closed|outside"),
    "chain-clip": (r"closed", r"open"),
    "gap": (r"open|gap|ends", r"closed"),
}
"""For each kind, the words for its telling side, the one that its drawing shows, and for the other side."""


def telling_side_faces(kind: str, face: str) -> bool | None:
    """Whether the face that is named is the telling side of its kind; None when the words do not say.

    >>> telling_side_faces("washer", "chamfered face"), telling_side_faces("washer", "flat face")
    (True, False)
    >>> telling_side_faces("washer", "greasy face") is None
    True
    """
    if kind not in _SIDES:
        return None
    telling, other = (bool(re.search(rf"\b(?:{words})\b", face, re.IGNORECASE)) for words in _SIDES[kind])
    return telling if telling != other else None


def orientation_picture(
    name: str, face: str, towards: str, shape: Mapping[str, str], said: str = "{face} towards {towards}"
) -> str:
    """The drawing for one orientation.

    name, face, towards : as the model has them; they make the alternative text, in the words `said`
    shape               : ``kind`` and stated sizes (outer, inner, thick, chamfer); a block when nothing is stated
    """
    kind = shape.get("kind", "block")
    if kind == "sleeve" and length(shape, "inner") == 0:
        kind = "pin"
    if kind == "circlip" and telling_side_faces("gap", face):
        kind = "gap"
    title = f"{name}: {said.format(face=face, towards=towards)}"
    faces = telling_side_faces(kind, face)
    if faces is None:
        return view("reed" if kind == "reed" else "block", telling_side_faces=True, title=title)
    if kind in PROFILES:
        rim = bool(re.search(r"\b(outer|rim|outside)\b", face, re.IGNORECASE))
        return section(kind, shape, telling_side_faces=faces, rim=rim, title=title)
    return view(kind, telling_side_faces=faces, title=title)
