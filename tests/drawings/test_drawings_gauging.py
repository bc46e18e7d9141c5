"""Drawings of where a reading is taken: every name that a model may use is drawn, inside its frame, with its places."""

from __future__ import annotations

import re
from math import atan2, pi
from xml.etree import ElementTree

import pytest

from docgen.club.schema.model import PICTURES as NAMES
from docgen.club.words import Words
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import commands
from docgen.sheets.drawings.gauging import WIDTH, gauging_picture, numbered
from docgen.sheets.drawings.panels import FRAME
from tests.drawings.seen import SVG, club, polygons, size_of, texts, title_of

PLACES = {
    "bore": ("top along", "top across", "middle along", "middle across", "bottom along", "bottom across"),
    "drum": ("along", "across"),
    "squish": ("left over the pin", "right over the pin"),
    "run-out": ("ignition side", "drive side"),
}
PLAIN = sorted(name for name, art in pictures("gauged").items() if not art.size)
NUMBER = re.compile(r"-?[0-9.]+")


def drawn(name: str) -> ElementTree.Element:
    svg = gauging_picture(name, "reading", "at its end", PLACES.get(name, ()))
    assert svg is not None
    return ElementTree.fromstring(svg)


def test_a_model_may_name_what_can_be_drawn_and_nothing_else() -> None:
    assert sorted(NAMES) == sorted(pictures("gauged"))
    assert len(NAMES) > 20
    assert set(PLACES) == {name for name in NAMES if numbered(name)}


@pytest.mark.parametrize("name", PLAIN)
def test_every_line_lies_in_the_frame(name: str) -> None:
    checked = 0
    for shape in drawn(name):
        get = shape.attrib.get
        points: list[tuple[float, float]] = []
        if get("points"):
            flat = [float(v) for v in NUMBER.findall(get("points", ""))]
            points = list(zip(flat[::2], flat[1::2], strict=True))
        elif get("r"):
            x, y, r = (float(get(key, "")) for key in ("cx", "cy", "r"))
            points = [(x - r, y - r), (x + r, y + r)]
        elif get("x1"):
            points = [(float(get(f"x{n}", "")), float(get(f"y{n}", ""))) for n in (1, 2)]
        elif get("width"):
            x, y, w, h = (float(get(key, "")) for key in ("x", "y", "width", "height"))
            points = [(x, y), (x + w, y + h)]
        checked += len(points)
        assert all(-0.01 <= x <= FRAME[0] and -0.01 <= y <= FRAME[1] + 0.01 for x, y in points), (shape.tag, points)
    assert checked > 10


@pytest.mark.parametrize("name", PLAIN)
def test_something_shows_where_the_gauge_goes(name: str) -> None:
    """A double arrow is two solid polygons of seven corners; a dial is a foot that is filled."""
    shapes = list(drawn(name))
    arrows = [s for s in shapes if s.attrib.get("fill") == "#000" and len(s.attrib.get("points", "").split()) == 7]
    feet = [s for s in shapes if s.attrib.get("r") == "0.583"]
    assert len(arrows) + 2 * len(feet) >= 2


@pytest.mark.parametrize("name", sorted(PLACES))
def test_each_place_stands_by_its_number(name: str) -> None:
    texts = [t.text for t in drawn(name).iter("{http://www.w3.org/2000/svg}text")]
    assert set(texts) == {str(n) for n in range(1, len(PLACES[name]) + 1)}


@pytest.mark.parametrize(
    ("name", "places"),
    [("bore", ("top", "bottom")), ("bore", ("top along across",)), ("bore", ()), ("drum", ("across", "rim")),
     ("squish", ("front",)), ("run-out", ("left", "middle", "right"))],
)  # fmt: skip
def test_no_drawing_where_the_words_do_not_say_what_to_draw(name: str, places: tuple[str, ...]) -> None:
    assert gauging_picture(name, "reading", "", places) is None


def test_the_alternative_text_says_the_same() -> None:
    title = drawn("drum").find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text == "Where the reading is taken, at its end, 1 along; 2 across"


def test_top_of_the_bore_is_drawn_above_its_bottom() -> None:
    found = {t.text: float(t.attrib["y"]) for t in drawn("bore").iter("{http://www.w3.org/2000/svg}text")
             if float(t.attrib["x"]) < WIDTH / 2}  # fmt: skip
    assert found["1"] == found["2"] < found["3"] == found["4"] < found["5"] == found["6"]


def worded(name: str, **marks: str) -> str:
    svg = gauging_picture(name, "reading", "", (), words=Words(), **marks)
    assert svg is not None
    return svg


@pytest.mark.parametrize(("name", "marks", "words"), [
    ("lever-above", {}, "straight edge; feeler; diaphragm’s end"),
    ("lever-below", {}, "straight edge; feeler; diaphragm’s end"),
    ("pressure-rig", {"ceiling": "1.2 bar"}, "pump; vent; never above 1.2 bar"),
    ("pressure-rig", {"leak": "at least 0.30 bar"}, "pump; vent; leak mark: at least 0.30 bar"),
    ("pressure-rig", {}, "pump; vent"),
    ("timing-dial", {}, "marks in line; before top dead centre"),
])  # fmt: skip
def test_words_in_a_drawing_are_read_aloud_too(name: str, marks: dict[str, str], words: str) -> None:
    svg = worded(name, **marks)
    assert title_of(svg) == f"Where the reading is taken; {words}"
    assert sorted(" ".join(text.words for text in texts(svg)).split()) == sorted(words.replace(";", "").split())
    assert size_of(svg)[0] <= 90
    assert size_of(svg)[1] <= 30


def test_the_lever_s_end_is_above_or_below_the_gasket_face_and_the_feeler_fills_what_is_between() -> None:
    """Above, the straight edge lies on a feeler at each side; below, on the face itself, and the feeler on the end."""
    for name, feelers, up in (("lever-above", 2, 1), ("lever-below", 1, -1)):
        root = ElementTree.fromstring(gauging_picture(name, "reading", "", ()) or "")
        black = [rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == "#000"]
        assert len(black) == feelers
        shapes = polygons(gauging_picture(name, "reading", "", ()) or "")
        edge = max(shapes, key=lambda one: one.size[0])
        (end,) = (one for one in shapes if one.fill == "#a8a8a8")
        face, tip = shapes[0].box[1], end.box[1]
        assert (edge.box[3] == face) is (up < 0)  # the edge lies on the face, or over it
        assert (face - tip) * up == pytest.approx(2.0)
        for rect in black:
            top, high = float(rect.attrib["y"]), float(rect.attrib["height"])
            assert top == pytest.approx(edge.box[3], abs=0.01)
            assert top + high == pytest.approx(face if up > 0 else tip)


def test_the_models_name_the_lever_drawing_that_their_range_asks_for() -> None:
    found = {}
    for name, read in club().models.items():
        setting = read.value.settings["lever-height"]
        assert setting.start is not None
        assert setting.start.low is not None
        found[name] = (setting.picture, setting.start.low >= 0, setting.gauge)
    assert found == {
        "alder-100r": ("lever-above", True, "lever-feelers"),
        "hazel-60j": ("lever-above", True, "lever-feelers"),
        "larch-125w": ("lever-below", False, "lever-feelers"),
    }


def test_the_needle_stands_outside_the_black_part_of_the_dial() -> None:
    """Below a ceiling, above the mark of a leak; the dial's nought is at its lower left."""
    for marks, ends in (({"ceiling": "1 bar"}, (0.66, 1.0)), ({"leak": "1 bar"}, (0.0, 0.66))):
        root = ElementTree.fromstring(worded("pressure-rig", **marks))
        dial = max(root.iter(f"{SVG}circle"), key=lambda one: float(one.attrib["r"]))
        x, y = float(dial.attrib["cx"]), float(dial.attrib["cy"])

        def share(point: tuple[float, float], x: float = x, y: float = y) -> float:
            return (atan2(point[1] - y, point[0] - x) - 0.75 * pi + 0.1) % (2 * pi) / (1.5 * pi) - 0.1 / (1.5 * pi)

        (black,) = (path.attrib["d"] for path in root.iter(f"{SVG}path") if path.get("fill") == "#000")
        corners = [(values[-2], values[-1]) for _, values in commands(black) if values]
        assert [share(corner) for corner in corners] == pytest.approx([*ends, *reversed(ends)], abs=0.01)
        (needle,) = (one for one in root.iter(f"{SVG}line") if (one.get("x1"), one.get("y1")) == (f"{x:g}", f"{y:g}"))
        stands = share((float(needle.attrib["x2"]), float(needle.attrib["y2"])))
        assert 0.1 < stands < 0.56 if "ceiling" in marks else 0.76 < stands < 0.9


def test_the_piston_stands_below_the_top_of_its_stroke_when_the_marks_meet() -> None:
    root = ElementTree.fromstring(worded("timing-dial"))
    (top,) = (line for line in root.iter(f"{SVG}line") if line.get("stroke-dasharray") == "1.4 0.8")
    (piston,) = root.iter(f"{SVG}rect")
    assert float(top.attrib["y1"]) < float(piston.attrib["y"])
    marks = [line for line in root.iter(f"{SVG}line") if line.get("stroke-width") == "1.4"]
    assert len(marks) == 2
    assert len({line.attrib["x1"] for line in marks} | {line.attrib["x2"] for line in marks}) == 1  # in one line


def test_the_drum_of_the_end_float_is_a_cup_on_needles_longer_than_wide() -> None:
    svg = gauging_picture("drum-float", "reading", "", ())
    assert svg is not None
    (roller,) = (r for r in ElementTree.fromstring(svg).iter(f"{SVG}rect") if r.get("fill") == "#a8a8a8")
    assert float(roller.attrib["width"]) > 3 * float(roller.attrib["height"])
    drum = next(one for one in polygons(svg) if len(one.points) == 8 and one.size[1] > 15)
    rim = [x for x, y in drum.points if y < 6.6]
    boss = [x for x, y in drum.points if y > 16.6]
    assert min(rim) < min(boss) - 4  # the rim reaches back over the hub, the boss does not
    assert max(boss) > max(rim) + 4
