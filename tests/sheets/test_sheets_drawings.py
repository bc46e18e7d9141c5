"""Drawings: which side faces where, hatching inside its outline, alternative text, contrast of the signal panels.

Sources: WCAG 2.2 contrast formula; ANSI Z535.4 panel colours.
"""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from docgen.sheets.drawings.canvas import circle_points, hatch_lines
from docgen.sheets.drawings.orientation import orientation_picture, telling_side_faces
from docgen.sheets.drawings.pattern import pattern_picture, places
from docgen.sheets.drawings.profiles import PROFILES, sizes
from docgen.sheets.drawings.symbols import SYMBOLS, alert, symbol
from docgen.sheets.gallery import FACES, gallery
from docgen.sheets.signals import SIGNALS
from tests.sheets.conftest import press
from tests.sheets.sample import sample_job

KINDS = (
    "washer", "dished-washer", "o-ring", "bearing", "drum", "gear", "sprocket", "nut", "seal", "circlip", "piston",
    "ring", "gasket", "diaphragm", "reed", "chain-clip", "cover", "lever", "sleeve", "block",
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"


def drawn(kind: str, face: str) -> str:
    return orientation_picture("part", face, "the wall", {"kind": kind, "outer": "30 mm", "inner": "15 mm"})


def test_every_kind_of_shape_has_a_drawing_with_alternative_text() -> None:
    assert set(KINDS) <= set(FACES)
    for kind in KINDS:
        root = ElementTree.fromstring(drawn(kind, FACES[kind][0]))
        title = root.find(f"{SVG}title")
        assert title is not None
        assert title.text == f"part: {FACES[kind][0]} towards the wall"
        assert len(root) > 3


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


@pytest.mark.parametrize("kind", PROFILES)
def test_a_profile_keeps_to_its_width_and_off_the_axis(kind: str) -> None:
    draw, thick = PROFILES[kind]
    profile = draw(sizes({"outer": "30 mm", "inner": "15 mm", "thick": "1 mm"}, thick))
    for polygon in profile.cut:
        assert all(-0.01 <= x <= profile.width + 0.01 and r > 0 for x, r in polygon)


def test_a_washers_chamfer_is_on_its_telling_side() -> None:
    draw, thick = PROFILES["washer"]
    (polygon,) = draw(sizes({"outer": "30 mm", "inner": "15 mm", "chamfer": "1 mm"}, thick)).cut
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
    assert len(SYMBOLS) > 8
    for svg in (*map(symbol, SYMBOLS), alert("#000", "#fff")):
        title = ElementTree.fromstring(svg).find(f"{SVG}title")
        assert title is not None
        assert title.text


def test_the_gallery_prints() -> None:
    assert press(gallery(), sample_job()).pages == 5
