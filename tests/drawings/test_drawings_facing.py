"""Drawings: which side faces where, hatching inside its outline, alternative text, contrast of the signal panels.

Sources: WCAG 2.2 contrast formula; ANSI Z535.4 panel colours.
"""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.club.words import Words
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import Canvas, circle_points, hatch_lines
from docgen.sheets.drawings.orientation import orientation_picture, telling_side_faces
from docgen.sheets.drawings.pattern import pattern_picture, places
from docgen.sheets.drawings.profiles import OUTER, profile
from docgen.sheets.drawings.profiles import drawn as drawn_at
from docgen.sheets.signals import SIGNALS, alert, hazards, symbol
from tests.drawings.seen import polygons, texts, title_of
from tools.drawings import FACES

KINDS = (
    "washer", "dished-washer", "o-ring", "bearing", "needle-bearing", "drum", "gear", "sprocket", "nut", "seal",
    "circlip", "piston", "ring", "gasket", "diaphragm", "reed", "chain-clip", "cover", "lever", "strainer", "sleeve",
    "block",
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def drawn(kind: str, face: str) -> str:
    return orientation_picture("part", face, "the wall", {"kind": kind, "outer": "30 mm", "inner": "15 mm"})


def test_every_kind_of_shape_has_a_drawing_with_alternative_text() -> None:
    assert set(KINDS) <= set(FACES)
    for kind in KINDS:
        svg = drawn(kind, FACES[kind][0])
        assert title_of(svg) == f"part: {FACES[kind][0]} towards the wall"
        assert len(ElementTree.fromstring(svg)) > 3


@pytest.mark.parametrize("kind", [kind for kind, faces in FACES.items() if len(faces) == 2])
def test_the_two_faces_of_a_part_are_drawn_differently(kind: str) -> None:
    one, other = FACES[kind]
    assert telling_side_faces(kind, one) is True
    assert telling_side_faces(kind, other) is False
    assert drawn(kind, one).partition("</title>")[2] != drawn(kind, other).partition("</title>")[2]


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"reed"}))
def test_a_face_in_unknown_words_is_a_plain_block_never_a_guess(kind: str) -> None:
    assert telling_side_faces(kind, "greasy face") is None
    assert drawn(kind, "greasy face").partition("</title>")[2] == drawn("block", "greasy face").partition("</title>")[2]


def test_words_for_both_sides_at_once_are_not_taken_for_either() -> None:
    assert telling_side_faces("washer", "flat face, not the chamfered one") is None


def cuts(kind: str, **shape: str) -> list[list[tuple[float, float]]]:
    """What is cut of a part by itself, as x and r."""
    canvas = Canvas(100, 100, "t")
    bore, thick = drawn_at(shape, kind)
    profile(canvas, kind, (bore, OUTER), thick, lambda point: point)
    return [list(one.points) for one in polygons(canvas.svg()) if one.fill == "none"]


@pytest.mark.parametrize("kind", sorted(pictures("profiles")))
def test_a_profile_keeps_to_its_width_and_off_the_axis(kind: str) -> None:
    for size in ("1 mm", "8 mm"):
        shape = {"outer": "30 mm", "inner": "15 mm", "thick": size}
        wide = drawn_at(shape, kind)[1]
        for polygon in cuts(kind, **shape):
            assert all(-0.01 <= x <= wide + 0.01 and 0 < r <= OUTER + 0.01 for x, r in polygon)


def test_a_washers_chamfer_is_on_its_telling_side() -> None:
    (polygon,) = cuts("washer", outer="30 mm", inner="15 mm")
    bore = min(r for _, r in polygon)
    assert min(r for x, r in polygon if x == 0) > bore  # the chamfered face stands back from the bore
    assert min(r for x, r in polygon if x == max(x for x, _ in polygon)) == bore


@given(st.floats(2, 40), st.floats(0.5, 3), st.sampled_from([1, -1]))
def test_hatching_stays_inside_a_circle(radius: float, spacing: float, slope: int) -> None:
    lines = hatch_lines(circle_points((5.0, -3.0), radius), spacing, slope)
    for line in lines:
        for x, y in line:
            assert (x - 5) ** 2 + (y + 3) ** 2 <= radius**2 * 1.001
    assert len(lines) >= int(2 * radius / spacing) - 2


@pytest.mark.parametrize(("pattern", "count"), [("circle", 4), ("circle", 7), ("rectangle", 6), ("row", 5)])
def test_a_tightening_order_numbers_every_head_once(pattern: str, count: int) -> None:
    svg = pattern_picture(pattern, count)
    assert svg is not None
    numbers = [int(text.text or "") for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    assert sorted(numbers) == list(range(1, count + 1))
    assert numbers == [place.turn for place in places(pattern, count)]


@pytest.mark.parametrize(("pattern", "count"), [("", 4), ("circle", 2), ("rectangle", 5), ("circle", 40)])
def test_no_order_is_drawn_where_there_is_none(pattern: str, count: int) -> None:
    assert pattern_picture(pattern, count) is None


def luminance(colour: str) -> float:
    full = colour if len(colour) == 7 else "#" + "".join(c * 2 for c in colour[1:])
    parts = [int(full[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_signal_panels_are_legible_in_colour_and_in_grey() -> None:
    assert set(SIGNALS) == {"danger", "warning", "caution", "notice"}
    for word, (letters, ground) in SIGNALS.items():
        light, dark = sorted((luminance(letters), luminance(ground)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, word


def test_symbols_are_drawings_with_a_name() -> None:
    assert len(hazards()) == 8
    for svg in (*(symbol(name, name) for name in (*hazards(), "arrow")), alert("#000", "#fff")):
        assert title_of(svg)


W = Words()


def facing(name: str, face: str, towards: str, kind: str) -> str:
    return orientation_picture(name, face, towards, {"kind": kind}, words=W)


def test_a_tab_towards_the_top_is_drawn_at_the_top() -> None:
    svg = facing("carburettor gasket", "tab", "the top", "gasket")
    outline, tab, arrow = polygons(svg)
    assert tab.fill == arrow.fill == "#000"
    assert tab.box[3] == outline.box[1]  # it stands on the upper edge
    assert arrow.points[3] == min(arrow.points, key=lambda point: point[1])  # the arrow's tip
    assert [(text.words, text.middle < outline.box[3] / 2) for text in texts(svg)] == [("the top", True)]


def test_what_faces_the_top_is_never_drawn_against_a_wall_on_its_left() -> None:
    up = [facing("part", face, "the top", kind) for face, kind in (("marked edge", "block"), ("arrow", "block"))]
    assert all(len(polygons(svg)) == 1 for svg in up)  # the arrow alone; a wall would be a polygon too
    assert len(polygons(facing("part", "marked edge", "the cylinder", "block"))) > 1


@pytest.mark.parametrize(("face", "towards", "above"), [
    ("marked side", "the crown", True), ("unmarked side", "the crown", False), ("marked side", "the skirt", False),
])  # fmt: skip
def test_a_ring_lies_in_its_groove_with_its_mark_where_the_words_say(face: str, towards: str, above: bool) -> None:
    svg = facing("piston ring", face, towards, "ring")
    (heavy,) = (line for line in ElementTree.fromstring(svg).iter(f"{SVG}line") if line.get("stroke-width") == "1.3")
    middle = (12.0 + 17.0) / 2  # of the groove
    assert (float(heavy.attrib["y1"]) < middle) is above


def test_a_ring_whose_words_name_neither_crown_nor_skirt_is_a_plain_block() -> None:
    assert facing("ring", "marked side", "the wall", "ring") == facing("ring", "marked side", "the wall", "block")


def test_a_strainer_s_rim_stands_towards_what_is_named() -> None:
    for face, sign in (("raised rim", -1), ("flat mesh", 1)):
        root = ElementTree.fromstring(facing("strainer", face, "the cover", "strainer"))
        (mesh,) = (line for line in root.iter(f"{SVG}line") if line.get("stroke-dasharray") == "1.6 1.1")
        rims = [rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == "#000"]
        assert len(rims) == 2
        for rim in rims:
            middle = float(rim.attrib["x"]) + float(rim.attrib["width"]) / 2
            assert (middle - float(mesh.attrib["x1"])) * sign > 0


def test_punch_marks_stand_where_the_gears_meet() -> None:
    root = ElementTree.fromstring(facing("balance gear", "punch mark", "the punch mark of the crank gear", "gear"))
    circles = [(float(c.attrib["cx"]), float(c.attrib["cy"]), c.attrib["fill"]) for c in root.iter(f"{SVG}circle")]
    middles = sorted(x for x, _, fill in circles if fill == "#fff")
    dots = sorted((x, y) for x, y, fill in circles if fill == "#000")
    assert len(middles) == len(dots) == 2
    assert middles[0] < dots[0][0] < dots[1][0] < middles[1]
    assert dots[0][1] == dots[1][1]


def test_what_a_part_looks_at_is_written_beside_the_wall() -> None:
    svg = facing("piston", "arrow on the crown", "the exhaust port", "piston")
    (words,) = texts(svg)
    wall = polygons(svg)[0]
    assert words.words == "the exhaust port"
    assert words.right <= wall.box[0]


@pytest.mark.parametrize(("shape", "wide", "round_"), [
    ({"outer": "50 mm"}, 1.0, True), ({"length": "150 mm", "width": "100 mm"}, 1.5, False),
    ({"length": "80 mm", "width": "120 mm"}, 1.5, False),
])  # fmt: skip
def test_the_part_s_outline_is_drawn_in_its_proportions_round_all_its_heads(
    shape: dict[str, str], wide: float, round_: bool
) -> None:
    svg = pattern_picture("circle", 6, shape, "hex 12 mm")
    assert svg is not None
    part = ElementTree.fromstring(svg)[1]
    assert (part.tag == f"{SVG}circle") is round_
    x, y = (15.0, 15.0) if round_ else (float(part.attrib["width"]), float(part.attrib["height"]))
    assert x / y == pytest.approx(wide, abs=0.01)
    reach = (14.5, 14.5) if round_ else (x / 2, y / 2)
    left, top, right, bottom = 26 - reach[0], 15 - reach[1], 26 + reach[0], 15 + reach[1]
    heads = [one for one in polygons(svg) if len(one.points) == 6]
    assert len(heads) == 6
    assert all(left < h.box[0] and top < h.box[1] and h.box[2] < right and h.box[3] < bottom for h in heads)


def test_socket_heads_are_round() -> None:
    svg = pattern_picture("circle", 4, {"outer": "50 mm"}, "hex-socket 4 mm")
    assert svg is not None
    assert polygons(svg) == []
    assert title_of(svg) == "Tightening order of 4; as they stand, the turns are 1, 3, 2, 4"
