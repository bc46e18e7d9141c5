"""What goes on in a row, drawn truly: order, sizes, which way each part looks, and no side drawn that nobody named."""

from __future__ import annotations

from itertools import pairwise
from math import isclose
from xml.etree import ElementTree

import pytest

from docgen.club.words import Words
from docgen.job.marks import StackMark
from docgen.sheets.drawings.chosen import drawings_for, legend_of
from docgen.sheets.drawings.layers import Part, layers_picture
from docgen.sheets.drawings.stack import spaced, stack_picture, stacked
from docgen.trade.threads import thread
from tests.drawings.seen import SVG, Shape, club, marks_of, one_engine_each, polygons, texts, title_of
from tools.drawings import AROUND, METERING_SIDE, PUMP_SIDE, STACK

WASHER = {"kind": "washer", "outer": "30 mm", "inner": "14 mm", "thick": "3 mm", "chamfer": "1 mm"}
DRUM = {"kind": "drum", "outer": "80 mm", "inner": "74 mm", "length": "30 mm"}
W = Words()


def slopes(parts: list[Part]) -> list[tuple[bool, bool, float]]:
    """Each edge at 45 degrees of what is hatched: on its part's left, on the shaft's side, how long along the shaft."""
    found = []
    for one in polygons(stack_picture(parts, "t")):
        left, top, right, low = one.box
        for (x1, y1), (x2, y2) in zip(one.points, (*one.points[1:], one.points[0]), strict=True):
            dx, dy = abs(x1 - x2), abs(y1 - y2)
            if one.fill == "none" and dx > 0.2 and isclose(dx, dy, abs_tol=0.01):
                found.append(((x1 + x2) / 2 < (left + right) / 2, (y1 + y2) / 2 > (top + low) / 2, dx))
    return found


def washer(face: str, inwards: bool | None) -> list[Part]:
    others = [stacked("", None, {"kind": "sleeve", "outer": "18 mm", "inner": "14 mm", "length": "15 mm"})]
    return [stacked(face, inwards, WASHER), *others]


@pytest.mark.parametrize(("face", "inwards", "left"), [
    ("chamfered side", True, True), ("chamfered side", False, False), ("flat side", True, False),
])  # fmt: skip
def test_a_chamfer_is_on_the_shaft_s_side_and_looks_where_the_model_says(face: str, inwards: bool, left: bool) -> None:
    ((on_left, at_shaft, long),) = slopes(washer(face, inwards))
    assert (on_left, at_shaft) == (left, True)
    plain = polygons(stack_picture(washer("", None), "t"))[1]
    assert long == pytest.approx(plain.size[0] / 3, rel=0.02)  # 1 mm of 3 mm, in proportion


def test_a_chamfer_at_the_rim_is_drawn_at_the_rim() -> None:
    ((on_left, at_shaft, _),) = slopes(washer("chamfered outer edge", True))
    assert (on_left, at_shaft) == (True, False)


def test_a_side_that_nobody_named_is_not_drawn() -> None:
    for face, inwards in (("", None), ("chamfered side", None), ("greasy", True)):
        assert slopes(washer(face, inwards)) == []


def part(svg: str, fill: str) -> Shape:
    (found,) = (one for one in polygons(svg) if one.fill == fill)
    return found


def test_the_needle_is_longer_than_wide_as_stated_and_the_o_ring_round() -> None:
    svg = stack_picture(STACK[:3], "t")
    roller, ring = part(svg, "#a8a8a8"), part(svg, "#000")
    assert roller.size[0] / roller.size[1] == pytest.approx(0.8 * 17 / 2, rel=0.01)  # a tenth at each end: its cage
    assert ring.size[0] == pytest.approx(ring.size[1], rel=0.01)
    assert ring.size[1] == pytest.approx(roller.size[1], rel=0.01)  # a cord of 2 mm, needles of 2 mm


def test_the_drum_is_a_cup_open_to_the_hub_and_runs_on_the_needles() -> None:
    svg = stack_picture(STACK, "t", around=AROUND)
    drum = max((one for one in polygons(svg) if one.fill == "none"), key=lambda one: len(one.points))
    left, top, _, low = drum.box
    rim = [x for x, y in drum.points if y - top < 0.2 * (low - top)]
    web = [x for x, y in drum.points if y - top > 0.9 * (low - top)]
    assert min(rim) == left
    assert min(web) - left > 0.5 * (max(rim) - left)  # behind the rim there is room for the hub
    needles = [one for one in polygons(svg) if one.fill == "#a8a8a8"][-1]
    assert needles.box[1] == pytest.approx(low, abs=0.01)  # the boss lies on the needles
    assert min(web) < needles.box[0] < needles.box[2] < max(web)


def test_the_shaft_bears_its_radius_and_the_hub_stands_where_the_washer_lies() -> None:
    svg = stack_picture(STACK, "t", around=AROUND)
    shaft = polygons(svg)[0]
    plain = polygons(stack_picture(STACK, "t"))[0]
    assert len(set(shaft.points)) - len(set(plain.points)) >= 8  # the corner is round
    hub = next(one for one in polygons(svg)[1:] if one.fill == "none")
    washers = [one for one in polygons(svg) if one.fill == "none" and isclose(one.box[0], hub.box[2], abs_tol=0.01)]
    assert len(washers) == 1  # the inner washer lies at the hub's face


def test_parts_are_numbered_from_the_engine_outwards() -> None:
    found = list(texts(stack_picture(STACK, "t", around=AROUND)))
    assert [text.words for text in found] == ["1", "2", "3", "4", "5", "6"]
    below = [text for text in found if text.words != "4"]  # the drum's stands beside its web
    assert [text.left for text in below] == sorted(text.left for text in below)
    assert all(a.right < b.left for a, b in pairwise(below))


def test_without_its_surroundings_a_stack_sits_on_a_plain_shaft_as_thick_as_its_holes() -> None:
    svg = stack_picture(STACK, "t")
    shaft, needles = polygons(svg)[0], part(svg, "#a8a8a8")
    assert shaft.box[0] >= 0
    assert shaft.box[1] == pytest.approx(needles.box[3], abs=0.01)


def test_places_keep_their_distance_and_their_middle() -> None:
    assert spaced([10.0, 10.0, 10.0], 4.0) == [6.0, 10.0, 14.0]
    assert spaced([0.0, 20.0], 4.0) == [0.0, 20.0]


def stacks(engine: str, job: str) -> list[StackMark]:
    return [mark for mark in marks_of(engine, job) if isinstance(mark, StackMark)]


def test_the_demo_s_clutch_is_a_stack_in_fitting_order_with_what_it_sits_on() -> None:
    (mark,) = stacks("023", "clutch-service")
    assert [(part.name, part.face, part.looks) for part in mark.parts] == [
        ("inner thrust washer", "chamfered side", "inwards"),
        ("O-ring of the shaft", "", ""),
        ("needle bearing of the drum", "", ""),
        ("clutch drum", "", ""),
        ("outer thrust washer", "", ""),
        ("clutch nut", "", ""),
    ]
    assert [part.name for part in mark.around] == [
        "thread of the shaft end",
        "clutch hub with shoes",
        "nut of the clutch hub",
        "drive sprocket",
    ]
    (drawing,) = drawings_for(mark, W)
    assert title_of(drawing.svg) == (
        "In this order, from the inside outwards: 1 inner thrust washer: chamfered side towards the crankcase; "
        "2 O-ring of the shaft; 3 needle bearing of the drum; 4 clutch drum; 5 outer thrust washer; 6 clutch nut; "
        "shown with them: thread of the shaft end, clutch hub with shoes, nut of the clutch hub, drive sprocket"
    )
    assert drawing.legend == legend_of(mark, W)


def test_the_parts_of_every_model_go_over_one_another() -> None:
    """What is drawn must be possible: the hub's nut over the journal, each part over the shaft, the cord in its room.

    Minor diameter of a nut's thread: d - 1.0825 p (ISO 68-1).
    """
    seen = 0
    for read in club().models.values():
        model = read.value

        def mm(size: object) -> float:
            return float(str(size).split()[0])

        shaft, inner = model.parts["shaft-end"].shape, model.parts["inner-thrust-washer"].shape
        bearing, drum = model.parts["drum-bearing"].shape, model.parts["drive-sprocket"].shape
        nut = thread(model.fasteners["hub-nut"].thread or "")
        assert shaft is not None and inner is not None and bearing is not None and drum is not None  # noqa: PT018
        journal = mm(shaft.inner)
        assert nut.d_mm - 1.0825 * nut.pitch_mm > journal
        assert mm(shaft.outer) == nut.d_mm
        assert mm(inner.inner) == mm(bearing.inner) == journal
        assert mm(drum.inner) == mm(bearing.outer)
        assert 0 < mm(shaft.radius) <= mm(inner.chamfer)
        assert mm(shaft.radius) < (mm(shaft.outer) - journal) / 2
        if ring := model.parts.get("shaft-o-ring"):
            assert ring.shape is not None
            assert mm(ring.shape.inner) < journal
            assert journal + 2 * mm(ring.shape.thick) == mm(bearing.outer)
        seen += 1
    assert seen == 3


@pytest.mark.parametrize("engine", one_engine_each().values())
def test_the_pump_has_its_diaphragm_on_the_body_and_the_metering_side_its_gasket(engine: str) -> None:
    metering, pump = sorted(stacks(engine, "carburettor-service"), key=lambda mark: len(mark.parts))
    assert [part.name for part in pump.parts] == [
        "pump diaphragm", "pump gasket", "pump cover", "strainer", "gasket of the fuel inlet cover", "fuel inlet cover",
    ]  # fmt: skip
    assert [part.name for part in metering.parts] == ["metering gasket", "metering diaphragm", "metering cover"]
    assert [(part.name, part.looks) for part in (*pump.parts, *metering.parts) if part.looks] == [
        ("strainer", "outwards"), ("metering diaphragm", "inwards"),
    ]  # fmt: skip


def test_layers_stand_in_their_order_from_the_body_outwards() -> None:
    numbers = [(text.words, text.left) for text in texts(layers_picture(PUMP_SIDE, "t"))]
    assert [word for word, _ in numbers] == ["1", "2", "3", "4", "5", "6"]
    assert [x for _, x in numbers] == sorted(x for _, x in numbers)
    flaps = list(ElementTree.fromstring(layers_picture(PUMP_SIDE, "t")).iter(f"{SVG}polyline"))
    assert len(flaps) == 2
    where = float(flaps[0].attrib["points"].split(",")[0])
    assert abs(where - numbers[0][1]) < abs(where - numbers[1][1])  # on the first layer, not on the gasket


def test_the_rivet_s_long_end_shows_on_the_side_that_it_looks_at() -> None:
    disc = {"kind": "diaphragm", "outer": "50 mm"}
    places = {}
    for looks in ("inwards", "outwards"):
        row = [METERING_SIDE[0], Part(disc, looks), METERING_SIDE[2]]
        root = ElementTree.fromstring(layers_picture(row, "t"))
        (rivet,) = (rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == "#000")
        number = float(next(text.left for text in texts(ElementTree.tostring(root).decode()) if text.words == "2"))
        places[looks] = float(rivet.attrib["x"]) - number
    assert places["inwards"] < -3 < 0 < places["outwards"]


def test_a_job_without_a_row_of_parts_has_no_stack() -> None:
    assert stacks("023", "spark-plug-renewal") == []
