"""What is right beside what is wrong: true sizes at a shaft's corner, openings, amounts, damage, crosses."""

from __future__ import annotations

import subprocess
from datetime import date
from math import atan2, hypot, pi
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from docgen.club.words import Words
from docgen.press.orders import plain_order
from docgen.press.workers import press
from docgen.sheets.drawings.art import pictures
from docgen.sheets.drawings.canvas import commands
from docgen.sheets.drawings.chosen import drawings_for
from docgen.sheets.drawings.comparison import (
    CLEARANCE,
    SCALE,
    across,
    chamfer_picture,
    drop_picture,
    grease_picture,
    stands_off,
)
from docgen.sheets.drawings.orientation import circlip_picture
from docgen.sheets.drawings.panels import FRAME, Panel, panelled, sight_picture
from docgen.sheets.page import Page
from docgen.trade.quantity import parse_quantity
from tests.drawings.seen import SVG, Point, Shape, club, marks_of, polygons, size_of, texts, title_of
from tools.drawings import CLEARED, NEEDLES

W = Words()


def corner(svg: str) -> list[Shape]:
    """What is hatched, without the ground below it: the block on the shoulder, shaft, washer; right way, then wrong."""
    return [one for one in polygons(svg) if one.fill == "none"]


def test_the_chamfer_is_at_the_shaft_s_radius_and_as_large_as_stated() -> None:
    svg = chamfer_picture(CLEARED, "washer", W)
    assert svg is not None
    block, shaft, washer, *_ = corner(svg)
    scale = washer.size[0] / 1.5  # it is 1.5 mm thick
    assert scale == pytest.approx(SCALE, rel=0.01)
    bore = washer.box[3]
    slanted = [
        (a, b) for a, b in zip(washer.points, washer.points[1:], strict=False)
        if abs(abs(a[0] - b[0]) - abs(a[1] - b[1])) < 0.01 and abs(a[0] - b[0]) > 0.5 and max(a[1], b[1]) == bore
    ]  # fmt: skip
    ((one, other),) = slanted
    assert min(one[0], other[0]) == washer.box[0] == pytest.approx(block.box[2], abs=0.01)  # the side at the shoulder
    assert abs(one[0] - other[0]) / scale == pytest.approx(1.0, abs=0.01)
    arc = [p for p in shaft.points if block.box[2] - 0.01 <= p[0] <= block.box[2] + 0.8 * scale + 0.01]
    assert len(arc) >= 10
    low = max(y for _, y in shaft.points if y < shaft.box[3] - 1)
    centre = (block.box[2] + 0.8 * scale, low - 0.8 * scale)
    round_ = [p for p in arc if p[1] > low - 0.8 * scale - 0.01]
    assert all(hypot(x - centre[0], y - centre[1]) == pytest.approx(0.8 * scale, abs=0.02) for x, y in round_)
    assert title_of(svg) == "washer; good: clears the radius; crossed out: stands off"


@pytest.mark.parametrize("radius", [0.4, 0.6, 0.8, 1.5])
def test_the_wrong_way_the_sharp_edge_touches_the_radius(radius: float) -> None:
    """The edge, CLEARANCE above the shaft, is on the circle of the corner: the radius away from its centre."""
    edge: Point = (stands_off(radius), CLEARANCE)
    assert hypot(edge[0] - radius, edge[1] - radius) == pytest.approx(radius)
    assert 0 < edge[0] < radius


def test_the_wrong_way_stands_off_by_that_gap_and_is_crossed_out() -> None:
    svg = chamfer_picture(CLEARED, "washer", W)
    assert svg is not None
    block, _, washer = corner(svg)[3:6]
    scale = washer.size[0] / 1.5
    assert (washer.box[0] - block.box[2]) / scale == pytest.approx(stands_off(0.8), abs=0.01)
    bars = [one for one in polygons(svg) if len(one.points) == 4 and one.weight == 0 and min(one.size) > 15]
    assert [one.fill for one in bars if one.box[0] < size_of(svg)[0] / 2 - 1] == []  # none on the right way
    assert [one.fill for one in bars] == ["#fff", "#fff", "#000", "#000"]


@pytest.mark.parametrize("missing", ["radius", "chamfer", "shoulder", "thick"])
def test_no_corner_is_drawn_from_sizes_that_nobody_states(missing: str) -> None:
    assert chamfer_picture({k: v for k, v in CLEARED.items() if k != missing}, "t", W) is None


def test_a_chamfer_smaller_than_the_radius_is_not_drawn_as_if_it_cleared_it() -> None:
    assert chamfer_picture(CLEARED | {"chamfer": "0.5 mm"}, "t", W) is None


@pytest.mark.parametrize(("way", "looks"), [(0, -pi / 2), (1, pi / 2), (2, 0.0)])
def test_a_circlip_s_opening_looks_where_it_should(way: int, looks: float) -> None:
    """Its outline is two large arcs about the bore's middle; between their four ends it is open."""
    part = pictures("views")["circlip-ways"].parts()[way]
    found = [one for one in commands(part.group[1].attrib["d"]) if one[1]]
    assert [(values[0], *values[3:5]) for command, values in found if command == "A"] == [(6.5, 1, 1), (4.7, 1, 0)]
    angles = [(atan2(values[-1] - 14.8, values[-2] - 12) - looks + pi) % (2 * pi) - pi for _, values in found]
    assert sum(angles) == pytest.approx(0, abs=0.02)
    assert max(angles) - min(angles) == pytest.approx(0.84, abs=0.02)


@pytest.mark.parametrize(("towards", "said"), [
    ("the crown or the skirt of the piston", "pin; good: up; good: down; crossed out: sideways"),
    ("the crown", "pin; good: up; crossed out: sideways"),
    ("the skirt of the piston", "pin; good: down; crossed out: sideways"),
])  # fmt: skip
def test_only_the_ways_that_the_model_names_are_good(towards: str, said: str) -> None:
    svg = circlip_picture(towards, "pin", W)
    assert svg is not None
    assert title_of(svg) == said


def test_no_circlip_is_drawn_where_the_words_name_neither_crown_nor_skirt() -> None:
    assert circlip_picture("the left", "pin", W) is None


def test_one_drop_is_as_large_as_it_is() -> None:
    """A ball of 0.05 ml: pi d^3 / 6 = 50 mm^3."""
    assert pi * across(parse_quantity("0.05 ml").value) ** 3 / 6 == pytest.approx(50)
    drops = [m for m in marks_of("023", "clutch-service") if m.mark == "apply" and m.kind == "threadlocker"]
    shown = [(str(mark.amount), len(drawings_for(mark, W))) for mark in drops]
    assert shown == [("0.05 ml", 1), ("0.1 ml", 0)]
    mark = drops[0]
    (drawing,) = drawings_for(mark, W)
    assert drawing.life_size
    circles = [float(c.attrib["r"]) for c in ElementTree.fromstring(drawing.svg).iter(f"{SVG}circle")]
    assert [2 * r for r in circles if r > 2] == pytest.approx([4.571] * 4, abs=0.002)  # one, and three crossed out
    assert title_of(drawing.svg) == (
        "Threadlocker, medium strength, 0.05\u00a0ml, thread of the shaft end; one drop, life size; 10 mm; "
        "crossed out: too much"
    )
    bar = next(one for one in ElementTree.fromstring(drawing.svg).iter(f"{SVG}line") if one.get("y1") == one.get("y2"))
    assert float(bar.attrib["x2"]) - float(bar.attrib["x1"]) == 10


@pytest.mark.parametrize("amount", ["0.1 ml", "0.02 ml", "1 ml"])
def test_what_is_more_or_less_than_a_drop_is_not_drawn_as_one(amount: str) -> None:
    assert drop_picture(parse_quantity(amount), "t", W) is None


def test_a_bearing_with_too_much_grease_is_crossed_out_and_no_other_part_is_drawn() -> None:
    svg = grease_picture(NEEDLES, "grease", W)
    assert svg is not None
    assert title_of(svg) == "grease; good: filled, wiped off; crossed out: too much"
    grease = [
        float(c.attrib["r"]) for c in ElementTree.fromstring(svg).iter(f"{SVG}circle") if c.get("fill") == "#a8a8a8"
    ]
    assert len(grease) == 1 + 1 + 3 * 7  # a full ring each; lumps outside, inside and over the edge
    assert grease_picture({"kind": "o-ring", "outer": "17 mm", "inner": "13 mm"}, "grease", W) is None


def test_a_good_tooth_has_flanks_alike_and_a_hook_has_not() -> None:
    good, hook = (
        [(values[-2], values[-1]) for _, values in commands(part.group[0].attrib["d"]) if values]
        for part in pictures("sights")["sprocket-teeth"].parts()
    )
    wide, tip = 34.0, 8.0
    assert all(any(hypot(wide - x - a, y - b) < 0.02 for a, b in good) for x, y in good)
    assert not all(any(hypot(wide - x - a, y - b) < 0.02 for a, b in hook) for x, y in hook)
    middle = [(x, y) for x, y in hook if 12 < x < 22]
    point = min(middle, key=lambda one: one[1])
    assert point[1] < tip
    assert point[0] > wide / 2 + 2  # its tip leans over
    behind = middle[middle.index(point) + 1 :]
    assert min(x for x, y in behind if y > tip) < point[0]  # hollow below it


SAID = {
    "drum-heat": "good: even grey; bad: blue; bad: cracked",
    "sprocket-teeth": "good: flanks alike; bad: hooked",
    "needle-track": "good: bright; bad: notched",
    "shoe-lining": "good: dull, dry; bad: oily",
    "plug-face": "good: tan; bad: white; bad: beaded",
    "petal-edges": "good: whole; bad: frayed; bad: chipped; bad: open",
}


@pytest.mark.parametrize("name", pictures("sights"))
def test_damage_is_shown_beside_what_is_good_with_a_word_for_each(name: str) -> None:
    svg = sight_picture(name, "Look.", W)
    assert title_of(svg) == f"Look.; {SAID[name]}"
    words = [one.partition(": ")[2] for one in SAID[name].split("; ")]
    assert " ".join(text.words for text in texts(svg)) == " ".join(words)


def test_the_tan_the_white_and_the_beaded_nose_differ_in_grey() -> None:
    shapes = polygons(sight_picture("plug-face", "t", W))
    noses = [one.fill for one in shapes if len(one.points) == 6 and one.weight and one.fill != "#e4e4e4"]
    assert noses == ["#a8a8a8", "#fff", "#fff"]
    beads = ElementTree.fromstring(sight_picture("plug-face", "t", W)).iter(f"{SVG}circle")
    assert sum(one.get("fill") == "#000" and float(one.attrib["r"]) < 1 for one in beads) == 8


def test_a_row_of_pictures_fills_its_frame_and_no_more() -> None:
    row = [Panel(lambda canvas: canvas.rectangle(0, 0, 20, 24), word, "good") for word in ("one", "two words", "three")]
    wide, high = FRAME
    x, y = size_of(panelled(row, (20.0, 24.0), "t", W))
    assert x <= wide + 0.01
    assert y <= high + 0.01
    assert x > wide - 3 or y > high - 0.1


@pytest.mark.parametrize("name", ["chamfer", "circlip", "grease"])
def test_a_cross_is_unmistakable_on_a_page_printed_in_grey(name: str, tmp_path: Path) -> None:
    """Along both bars of the last picture nearly every point is black, and white lies beside them."""
    svg = {
        "chamfer": lambda: chamfer_picture(CLEARED, "t", W),
        "circlip": lambda: circlip_picture("the crown", "t", W),
        "grease": lambda: grease_picture(NEEDLES, "t", W),
    }[name]()
    assert svg is not None
    css = "@page { size: 100mm 40mm; margin: 0 } body { margin: 0 } svg { position: absolute; left: 0; top: 0 }"
    html = f'<!DOCTYPE html><html lang="en"><head><title>t</title></head><body>{svg}</body></html>'
    page = Page(html=html, css=css, title="t", subject="t", identifier="T", language="en")
    outcome = press(plain_order("t", page, "Club", date(2027, 1, 1), ("t",)))
    assert outcome.pressed is not None, outcome.faults
    (tmp_path / "t.pdf").write_bytes(outcome.pressed.pdf)
    subprocess.run(["pdftoppm", "-r", "254", "-gray", "-singlefile", "t.pdf", "t"], cwd=tmp_path, check=True)
    grey = Image.open(tmp_path / "t.pgm")
    bars = [one for one in polygons(svg) if one.fill == "#000" and len(one.points) == 4 and min(one.size) > 15]
    assert len(bars) == 2
    for bar in bars:
        (ax, ay), (bx, by) = (
            ((bar.points[a][0] + bar.points[b][0]) / 2, (bar.points[a][1] + bar.points[b][1]) / 2)
            for a, b in ((0, 3), (1, 2))
        )
        length = hypot(bx - ax, by - ay)
        side = (-(by - ay) / length, (bx - ax) / length)
        on = [_at(grey, ax + (bx - ax) * t, ay + (by - ay) * t) for t in (n / 40 for n in range(1, 40))]
        assert sum(value < 60 for value in on) >= 38
        for sign in (1, -1):
            beside = [
                _at(grey, ax + (bx - ax) * t + sign * side[0], ay + (by - ay) * t + sign * side[1])
                for t in (n / 40 for n in range(4, 37) if abs(n - 20) > 3)
            ]
            assert sum(value > 200 for value in beside) >= 0.9 * len(beside)


def _at(grey: Image.Image, x: float, y: float) -> int:
    value = grey.getpixel((round(x * 10), round(y * 10)))
    assert isinstance(value, int)
    return value


def test_every_model_s_washer_clears_its_shaft_so_that_its_drawing_is_true() -> None:
    seen = 0
    for number in ("017", "021", "031"):
        (mark,) = (m for m in marks_of(number, "clutch-service") if m.mark == "orientation" and "washer" in m.item)
        (drawing,) = drawings_for(mark, W)
        assert title_of(drawing.svg) == (
            "inner thrust washer: chamfered side towards the crankcase; good: clears the radius; "
            "crossed out: stands off"
        )
        seen += 1
    assert seen == len(club().models)
