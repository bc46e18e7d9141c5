"""Which way round a part goes: from its stated face and shape to the drawing that shows it.

A wrong picture is worse than none. The shape of a part is drawn only when the words for its face say which of its two
sides is meant; otherwise a plain block is drawn, whose heavy edge stands for the face that is named.
"""

import re
from collections.abc import Mapping
from functools import partial

from docgen.club.words import Words
from docgen.job.wording import IN_ENGLISH
from docgen.sheets.drawings.art import groups, pictures
from docgen.sheets.drawings.canvas import THIN, Canvas, Point
from docgen.sheets.drawings.comparison import chamfer_picture
from docgen.sheets.drawings.panels import LINE, WORD, side_by_side, wrapped
from docgen.sheets.drawings.profiles import OUTER, drawn, length, profile, profiled
from docgen.sheets.measure import width as measured

_FLAT = r"flat|plain|smooth|straight"
_SIDES: dict[str, tuple[str, str]] = {
    "washer": (r"chamfer\w*|bevel\w*|countersunk", rf"{_FLAT}|sharp"),
    "dished-washer": (r"hollow|dished|concave|inner", r"domed|convex|crowned|outer"),
    "needle-bearing": (r"mark\w*|letter\w*|number\w*|stamp\w*|engrav\w*", r"unmarked|plain"),
    "strainer": (r"rim|raised|lip", r"mesh|flat"),
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


WIDTH, HEIGHT = 52.0, 29.0
"""Of a drawing without words, mm."""
_AXIS = 14.5
_WORDS = 34.0
"""Room for the words of what a part looks at, mm."""
_UP = re.compile(r"(the )?(top|upwards|up)\b", re.IGNORECASE)
_MARK = re.compile(r"\b(punch|mark|dot)\w*\b", re.IGNORECASE)
_CROWN, _SKIRT = re.compile(r"\bcrown\b", re.IGNORECASE), re.compile(r"\bskirt\b", re.IGNORECASE)


def orientation_picture(
    name: str, face: str, towards: str, shape: Mapping[str, str], words: Words | None = None
) -> str:
    """The drawing for one orientation.

    name, face, towards : as the model has them; they make the alternative text
    shape               : ``kind`` and stated sizes (outer, inner, thick, chamfer); with the ``radius``, ``shoulder``
                          and ``journal`` of a shaft whose radius a chamfer clears. A block when nothing is stated
    words               : for drawings that have words in them; with them, what the part looks at is named too
    """
    w, kind = words or IN_ENGLISH, shape.get("kind", "block")
    title = f"{name}: {w('{face} towards {towards}', face=face, towards=towards)}"
    special = None
    if kind == "washer" and telling_side_faces(kind, face):
        special = chamfer_picture(shape, title, w)
    elif kind == "circlip" and telling_side_faces("gap", face):
        special = circlip_picture(towards, title, w)
    if special is not None:
        return special
    kind, faces = _seen(kind, face, towards, shape)
    views = pictures("views")
    view = views.get(kind, views["block"])
    at = next((text.at for text in view.texts() if text.kind == "beside"), None)
    lines = wrapped(towards, 1.4 * _WORDS if at else _WORDS) if words and kind != "marks" else []
    room = max((measured(line, bold=True) * WORD for line in lines), default=0.0)
    left = room + 1.5 if lines and not at else 0.0
    right = max(0.0, at[0] + room - WIDTH) if at and lines else 0.0
    canvas = Canvas(left + WIDTH + right, HEIGHT, title)
    inner = canvas.within((left, 0), 1.0)
    if profiled(kind):
        rim = bool(re.search(r"\b(outer|rim|outside)\b", face, re.IGNORECASE))
        _section(inner, "rim-washer" if rim and kind == "washer" else kind, shape, faces)
    else:
        view.draw(inner, "faces" if faces else "away")
    for n, line in enumerate(lines):
        if at:
            canvas.text((at[0], at[1] + LINE * n), line, WORD, anchor="start")
        else:
            canvas.text((room, canvas.height / 2 + LINE * (n - (len(lines) - 1) / 2)), line, WORD, anchor="end")
    return canvas.svg()


def _seen(kind: str, face: str, towards: str, shape: Mapping[str, str]) -> tuple[str, bool]:
    """What is drawn, and whether its telling side looks at what is named; a block where the words do not say."""
    up = _UP.match(towards) is not None
    if kind == "ring":
        side, crown, skirt = telling_side_faces(kind, face), _CROWN.search(towards), _SKIRT.search(towards)
        known = side is not None and bool(crown or up) != bool(skirt)
        return ("ring", side == bool(crown or up)) if known else ("block", True)
    if kind == "gear" and _MARK.search(face) and _MARK.search(towards):
        return "marks", True
    if kind != "piston" and re.search(r"\barrow\b", face, re.IGNORECASE):
        return ("arrow-up" if up else "arrow"), True
    if up:
        tab = kind == "gasket" and re.search(r"\b(tab|tongue|ear)\b", face, re.IGNORECASE)
        return ("tab" if tab else "block-up"), True
    if kind == "sleeve" and length(shape, "inner") == 0:
        kind = "pin"
    faces = telling_side_faces(kind, face)
    return (kind, faces) if faces is not None else ("reed" if kind == "reed" else "block", True)


def circlip_picture(towards: str, title: str, words: Words) -> str | None:
    """The ways that the model names, ticked, and sideways, crossed out; None where it names neither crown nor skirt."""
    art = pictures("views")["circlip-ways"]
    ways = [one for one in art.parts() if re.search(one.given["data-towards"], towards, re.IGNORECASE)]
    return side_by_side(art, ways, title, words) if len(ways) > 1 else None


_WALL, _PART = 9.0, 24.0


def _section(canvas: Canvas, kind: str, shape: Mapping[str, str], faces: bool) -> None:
    """A round part on its shaft; its telling side faces the hatched wall on the left, or away from it."""
    bore, thick = drawn(shape, kind)
    shaft = bore - 0.35
    groups("views")["wall"].draw(canvas)
    half = [(_WALL, shaft), (47.0, shaft), (48.0, shaft - 1)]
    canvas.polygon([*((x, _AXIS - r) for x, r in half), *((x, _AXIS + r) for x, r in reversed(half))], THIN)

    def place(point: Point, up: int) -> Point:
        return (_PART + (point[0] if faces else thick - point[0]), _AXIS - up * point[1])

    for up in (1, -1):
        profile(canvas, kind, (bore, OUTER), thick, partial(place, up=up), "alone")
    canvas.line((2, _AXIS), (51, _AXIS), THIN, "5 1.2 1 1.2")
    canvas.arrow((_PART - 1.2, _AXIS - 9), (_WALL + 1, _AXIS - 9), 1.8, 5.5)
