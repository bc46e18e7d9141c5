"""What goes onto one shaft in a row, in true section: shaft, hub, washers, bearing, the cup of the drum, the nut.

Stated sizes are in proportion, along the shaft as away from it; what nobody states (the inside of a hub, the wall of a
web, the depth of a tooth) is assumed in :mod:`profiles`. Above the axis only, as both halves are alike. What lies
between the parts on the shaft and the rim of a drum is left out, behind a break line. A face that nobody named
is not drawn.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from docgen.sheets.drawings import profiles
from docgen.sheets.drawings.canvas import INK, THIN, Canvas, Point
from docgen.sheets.drawings.layers import LAYER_KINDS, Part, layers_picture
from docgen.sheets.drawings.orientation import telling_side_faces
from docgen.sheets.drawings.panels import FRAME, WORD
from docgen.sheets.drawings.profiles import Section, Shape, profile, size

FLOAT = 0.6
"""Room in which a drum moves along its shaft, drawn between it and the washer outside it, mm; assumed."""
_UNDER, _NUMBER = 2.0, 5.4
_INSIDE = ("o-ring", "needle-bearing", "bearing", "sleeve")
"""What a drum covers as it goes on."""
_TRUE = {kind: f"true-{kind}" for kind in ("needle-bearing", "bearing", "sleeve", "nut")}
"""Kinds that look alike both ways, with their true proportions between bore and rim."""


def stacked(face: str, inwards: bool | None, shape: Shape) -> Part:
    """A part of a stack.

    face    : the face that is named, empty where the part has none
    inwards : whether that face looks at the engine; None where nobody says
    shape   : ``kind`` and stated sizes (outer, inner, thick, length, chamfer)
    """
    telling = telling_side_faces(shape.get("kind", ""), face) if face else None
    if telling is None or inwards is None:
        return Part(shape, face=face)
    return Part(shape, "inwards" if telling == inwards else "outwards", face)


class _Placed(NamedTuple):
    """A part with its ends along the shaft, mm."""

    part: Part
    left: float
    right: float


def stack_picture(
    parts: Sequence[Part], title: str, *, around: Sequence[Part] = (), high: float = FRAME[1]
) -> str:
    """The section of a stack, each part with its number in fitting order; layers on a body where the parts are flat.

    around : what is there already or rides along: ``shaft``, ``hub``, the hub's ``nut``, a drum's ``sprocket``
    high   : the most that it is high, mm
    """
    if all(part.kind in LAYER_KINDS for part in parts):
        return layers_picture(parts, title, high)
    known = {part.kind: part.shape for part in around}
    placed, end = _along(parts, known.get("shaft", {}))
    top = max(size(part.shape, "outer", 10.0) for part in (*parts, *around)) / 2
    rims = [size(part.shape, "length", 30.0) for part in parts if part.kind == "drum"]
    left = -(size(known["hub"], "length", 25.0) + 4 if "hub" in known else max([8.0, *rims]))
    tip = placed[-1].right + 2.0
    left_out = _left_out(parts, known)
    room = high - _UNDER - _NUMBER - 0.4
    shown = top - (left_out[1] - left_out[0])
    scale = min((room - (Section.BREAK if left_out[1] else 0.0)) / shown, (FRAME[0] - 2.0) / (tip - left + 1.0))
    axis = shown * scale + (Section.BREAK if left_out[1] else 0.0) + 0.4
    canvas = Canvas((tip - left) * scale + 1.5, axis + _UNDER + _NUMBER, title)
    section = Section(canvas, (0.6 - left * scale, axis), scale, left_out)
    _drawn(section.above, placed, known, left, end, tip)
    webs = [one.left for one in placed if one.part.kind == "drum"]
    if left_out[1]:
        section.broken(left + 1.0 if "hub" in known else min(webs) - 3.0, max(webs) + 5.0)
    canvas.line((0, axis), (canvas.width, axis), THIN, "5 1.2 1 1.2")
    _numbers(canvas, section.above.to, axis + _UNDER + WORD / 2, placed)
    return canvas.svg()


def _left_out(parts: Sequence[Part], known: Mapping[str, Shape]) -> tuple[float, float]:
    """Between which radii nothing is shown: over all that sits on the shaft, below a drum's rim."""
    drums = [part.shape for part in parts if part.kind == "drum"]
    if not drums:
        return (0.0, 0.0)
    others = [part.shape for part in parts if part.kind != "drum"] + [known.get("sprocket", {}), known.get("nut", {})]
    low = max(size(shape, "outer", 0.0) for shape in others) / 2 + 2.0
    high = size(drums[0], "inner", 70.0) / 2 - 5.0
    return (low, high) if high - low > 4.0 else (0.0, 0.0)


def _along(parts: Sequence[Part], shaft: Shape) -> tuple[list[_Placed], float]:
    """The parts along the shaft, and where its journal ends: before the first part that does not go over it."""
    journal = size(shaft, "inner", _bore([part.shape for part in parts]))
    placed: list[_Placed] = []
    x, covered, end = 0.0, 0.0, 0.0
    for part in parts:
        if part.kind == "drum":
            boss = max(x + 0.2, covered + 10.0)
            placed.append(_Placed(part, covered, boss))
            x = covered = boss + FLOAT
            continue
        if not end and size(part.shape, "inner", journal) < journal - 1.0 and part.kind != "o-ring":
            end = x
        right = x + size(part.shape, "length", size(part.shape, "thick", 2.0))
        placed.append(_Placed(part, x, right))
        covered, x = (covered, right) if part.kind in _INSIDE else (right, right)
    return placed, end or x


def _drawn(
    canvas: Canvas, placed: Sequence[_Placed], known: Mapping[str, Shape], left: float, end: float, tip: float
) -> None:
    shapes = [one.part.shape for one in placed]
    stepped = known.get("shaft") or {"outer": f"{_bore(shapes)} mm", "inner": f"{_bore(shapes)} mm"}
    hub, own_nut = known.get("hub", {}), known.get("nut", {})
    begins, step = left + 4.0, -size(own_nut, "thick", 0.0) if hub else 0.0
    thread = size(shapes[-1], "inner", _bore(shapes)) / 2
    profiles.shaft(canvas, begins, size(hub, "inner", 0.0) / 2, step, end, tip, stepped, thread)
    if hub:
        profiles.hub(canvas, 0.0, hub, own_nut)
    if own_nut:
        _ring(canvas, step, step + size(own_nut, "thick", 8.0), Part({**own_nut, "kind": "nut"}))
    bore = size(stepped, "inner", 14.0) / 2
    for one in placed:
        part = one.part
        if part.kind == "washer":
            rim = any(word in part.face.lower() for word in ("outer", "rim", "outside"))
            profiles.washer(canvas, one.left, part.shape, part.looks, rim)
        elif part.kind == "o-ring":
            profiles.o_ring(canvas, one.left, part.shape, bore)
        elif part.kind == "drum":
            inner = max((size(s, "outer", 0.0) for s in shapes if s.get("kind") in _INSIDE[1:]), default=2 * bore) / 2
            profiles.drum(canvas, one.left, one.right, part.shape, inner, known.get("sprocket", {}))
        else:
            _ring(canvas, one.left, one.right, part)


def _bore(shapes: Sequence[Shape]) -> float:
    """The shaft's diameter, where nobody states it: that of the widest hole, a drum's cup not counted."""
    return max((size(shape, "inner", 0.0) for shape in shapes if shape.get("kind") != "drum"), default=0.0) or 10.0


def _ring(canvas: Canvas, left: float, right: float, part: Part) -> None:
    """A part from its bore to its rim; a plain ring where nobody says which way its telling side looks."""
    kind = _TRUE.get(part.kind) or (part.kind if part.looks else "true-ring")
    low, high = size(part.shape, "inner", 10.0) / 2, size(part.shape, "outer", 20.0) / 2
    high = high * profiles.CORNER if part.kind == "nut" else high

    def place(point: Point) -> Point:
        return (right - point[0] if part.looks == "outwards" else left + point[0], point[1])

    profile(canvas, kind, (low, high), right - left, place)


def _numbers(canvas: Canvas, on_canvas: Callable[[Point], Point], row: float, placed: Sequence[_Placed]) -> None:
    """Numbers below the axis in one row, a line from each into its part; a drum's beside its web."""
    wanted = [on_canvas(((one.left + one.right) / 2, 0.0))[0] for one in placed if one.part.kind != "drum"]
    spread = spaced(wanted, WORD)
    for turn, one in enumerate(placed, 1):
        shape = one.part.shape
        if one.part.kind == "drum":
            tip = on_canvas((one.left + 1.5, size(shape, "inner", 70.0) / 2 - 1.0))
            start, where = (tip[0] + 5.0, tip[1]), (tip[0] + 6.8, tip[1])
        else:
            low, high = size(shape, "inner", 10.0) / 2, size(shape, "outer", 20.0) / 2
            tip = on_canvas(((one.left + one.right) / 2, low + min(0.5 * (high - low), 3.0)))
            where = (spread.pop(0), row)
            start = (where[0], row - 0.5 * WORD)
        canvas.line(start, tip, 0.25)
        canvas.circle(tip, 0.4, 0, INK)
        canvas.text(where, str(turn), WORD)


def spaced(wanted: Sequence[float], least: float) -> list[float]:
    """Places as near to the wanted ones (rising) as lets each stand ``least`` from the next.

    >>> spaced([1.0, 1.5, 9.0], 2.0)
    [0.25, 2.25, 9.0]
    """
    groups: list[list[float]] = []

    def first(group: Sequence[float]) -> float:
        return sum(group) / len(group) - least * (len(group) - 1) / 2

    for place in wanted:
        groups.append([place])
        while len(groups) > 1 and first(groups[-2]) + least * len(groups[-2]) > first(groups[-1]):
            groups[-2:] = [groups[-2] + groups[-1]]
    return [first(group) + least * n for group in groups for n in range(len(group))]
