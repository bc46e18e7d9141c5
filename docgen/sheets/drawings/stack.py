"""Parts on one shaft in section, in the order in which they go on: the first against the engine, on the left.

Drawn a little apart, so that each is seen by itself. A part whose right way round is not known is drawn without the
side that would tell.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from docgen.sheets.drawings.canvas import THIN, Canvas, Point
from docgen.sheets.drawings.orientation import telling_side_faces
from docgen.sheets.drawings.profiles import PROFILES, Profile, Sizes, length, rim_washer, sizes

HEIGHT = 47.0
_AXIS, _WALL, _GAP, _SHAFT = 20.0, 7.0, 5.0, 3.4
_LABEL = 6.2
_SAME_BOTH_WAYS = ("o-ring", "bearing")


@dataclass(frozen=True)
class Stacked:
    """One part of the stack.

    face    : the face that is named, empty where the part has none
    inwards : whether that face looks at the engine; None where nobody says
    shape   : ``kind`` and stated sizes (outer, inner, thick, length, chamfer)
    """

    face: str
    inwards: bool | None
    shape: Mapping[str, str]


def stack_picture(parts: Sequence[Stacked], title: str) -> str:
    """The section of a stack; each part bears its number in fitting order below it.

    Outer radii are in proportion to one another, between 5 mm and 16 mm as drawn.
    """
    largest = max((length(part.shape, "outer") or 20.0) for part in parts)
    placed: list[tuple[float, Profile, bool]] = []
    x = _WALL + _GAP
    for part in parts:
        profile, mirrored = _profile(part, largest)
        placed.append((x, profile, mirrored))
        x += profile.width + _GAP
    canvas = Canvas(x + 6, HEIGHT, title)
    canvas.hatched([(0.3, 2), (_WALL, 2), (_WALL, 38), (0.3, 38)], 1.8, -1)
    canvas.polygon(
        [(_WALL, _AXIS - _SHAFT), (x, _AXIS - _SHAFT), (x + 1, _AXIS - _SHAFT + 1), (x + 1, _AXIS + _SHAFT - 1),
         (x, _AXIS + _SHAFT), (_WALL, _AXIS + _SHAFT)],
        THIN,
    )  # fmt: skip
    for turn, (left, profile, mirrored) in enumerate(placed, 1):
        _draw(canvas, left, profile, mirrored)
        canvas.text((left + profile.width / 2, 42.5), str(turn), _LABEL)
    canvas.line((1, _AXIS), (x + 5, _AXIS), THIN, "5 1.2 1 1.2")
    return canvas.svg()


def _draw(canvas: Canvas, left: float, profile: Profile, mirrored: bool) -> None:
    def place(point: Point, up: int) -> Point:
        return (left + (profile.width - point[0] if mirrored else point[0]), _AXIS - up * point[1])

    for up in (1, -1):
        for cut in profile.cut:
            canvas.hatched([place(p, up) for p in cut], 0.9, 1)
        for plain in profile.plain:
            canvas.polygon([place(p, up) for p in plain], THIN)
        for a, b in profile.bold:
            canvas.line(place(a, up), place(b, up), 1.4)


def _profile(part: Stacked, largest: float) -> tuple[Profile, bool]:
    """What the part is drawn as, and whether its telling side looks outwards."""
    kind = part.shape.get("kind", "")
    outer = max(5.6 + _SHAFT, 16.0 * (length(part.shape, "outer") or 20.0) / largest)
    draw, least = PROFILES[kind]
    given = sizes(part.shape, least)
    drawn = Sizes(_SHAFT + 0.4, outer, min(given.thick, 12.0), min(given.chamfer, (outer - _SHAFT) * 0.5))
    telling = telling_side_faces(kind, part.face) if part.face else None
    if telling is None or part.inwards is None:
        return (_plain(drawn) if kind not in _SAME_BOTH_WAYS else _unmarked(draw(drawn))), False
    rim = kind == "washer" and any(word in part.face.lower() for word in ("outer", "rim", "outside"))
    return (rim_washer(drawn) if rim else draw(drawn)), telling != part.inwards


def _plain(s: Sizes) -> Profile:
    """A part that looks the same from both sides."""
    return Profile((((0, s.bore), (0, s.outer), (s.thick, s.outer), (s.thick, s.bore)),), s.thick)


def _unmarked(profile: Profile) -> Profile:
    return Profile(profile.cut, profile.width, profile.plain)
