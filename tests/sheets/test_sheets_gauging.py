"""Drawings of where a reading is taken: every name that a model may use is drawn, inside its frame, with its places."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from docgen.club.schema.model import PICTURES as NAMES
from docgen.sheets.drawings.gauging import HEIGHT, NUMBERED, PICTURES, WIDTH, gauging_picture

PLACES = {
    "bore": ("top along", "top across", "middle along", "middle across", "bottom along", "bottom across"),
    "drum": ("along", "across"),
    "squish": ("left over the pin", "right over the pin"),
    "run-out": ("ignition side", "drive side"),
}
NUMBER = re.compile(r"-?[0-9.]+")


def drawn(name: str) -> ElementTree.Element:
    svg = gauging_picture(name, "reading", "at its end", PLACES.get(name, ()))
    assert svg is not None
    return ElementTree.fromstring(svg)


def test_a_model_may_name_what_can_be_drawn_and_nothing_else() -> None:
    assert sorted(NAMES) == sorted(PICTURES)
    assert len(NAMES) > 20
    assert set(PLACES) == NUMBERED


@pytest.mark.parametrize("name", sorted(PICTURES))
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
        assert all(-0.01 <= x <= WIDTH and -0.01 <= y <= HEIGHT for x, y in points), (shape.tag, points)
    assert checked > 10


@pytest.mark.parametrize("name", sorted(PICTURES))
def test_something_shows_where_the_gauge_goes(name: str) -> None:
    """A double arrow is two solid polygons of seven corners; a dial is a foot that is filled."""
    shapes = list(drawn(name))
    arrows = [s for s in shapes if s.attrib.get("fill") == "#000" and len(s.attrib.get("points", "").split()) == 7]
    feet = [s for s in shapes if s.attrib.get("r") == "0.7"]
    assert len(arrows) + 2 * len(feet) >= 2


@pytest.mark.parametrize("name", sorted(NUMBERED))
def test_each_place_stands_by_its_number(name: str) -> None:
    texts = [t.text for t in drawn(name).iter("{http://www.w3.org/2000/svg}text")]
    assert set(texts) == {str(n) for n in range(1, len(PLACES[name]) + 1)}


@pytest.mark.parametrize(
    ("name", "places"),
    [("bore", ("top", "bottom")), ("bore", ("top along across",)), ("bore", ()), ("drum", ("across", "along")),
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
