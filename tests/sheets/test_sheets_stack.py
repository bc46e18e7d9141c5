"""A stack on a shaft in section: order, which way each part looks, and no side drawn that nobody named."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from docgen.job.marks import StackMark
from docgen.sheets.drawings.stack import Stacked, stack_picture
from tests.demo.conftest import _job

SVG = "{http://www.w3.org/2000/svg}"
WASHER = {"kind": "washer", "outer": "30 mm", "inner": "15 mm", "thick": "1.5 mm", "chamfer": "1 mm"}
BEARING = {"kind": "bearing", "outer": "19 mm", "inner": "15 mm", "length": "17 mm"}
DRUM = {"kind": "drum", "outer": "80 mm", "inner": "74 mm", "length": "30 mm"}


def chamfers(svg: str) -> list[float]:
    """Slope of each heavy line of the upper half: below 0 it rises to the left, so that the chamfer looks left."""
    lines = [
        line.attrib for line in ElementTree.fromstring(svg).iter(f"{SVG}line") if line.get("stroke-width") == "1.4"
    ]
    ends = [[float(a[k]) for k in ("x1", "y1", "x2", "y2")] for a in lines]
    return [(x2 - x1) * (y2 - y1) for x1, y1, x2, y2 in ends if max(y1, y2) < 20]


def test_a_chamfer_looks_where_the_model_says() -> None:
    inwards = chamfers(stack_picture([Stacked("chamfered side", True, WASHER), Stacked("", None, DRUM)], "t"))
    outwards = chamfers(stack_picture([Stacked("chamfered side", False, WASHER), Stacked("", None, DRUM)], "t"))
    flat_inwards = chamfers(stack_picture([Stacked("flat side", True, WASHER), Stacked("", None, DRUM)], "t"))
    assert [len(found) for found in (inwards, outwards, flat_inwards)] == [1, 1, 1]
    assert inwards[0] > 0  # up and to the left, away from the bore: it opens towards the engine
    assert outwards[0] < 0
    assert flat_inwards[0] < 0


def test_a_side_that_nobody_named_is_not_drawn() -> None:
    for part in (Stacked("", None, WASHER), Stacked("chamfered side", None, WASHER), Stacked("greasy", True, WASHER)):
        assert chamfers(stack_picture([part, Stacked("", None, BEARING)], "t")) == []


def test_parts_are_numbered_from_the_engine_outwards() -> None:
    parts = [Stacked("", None, shape) for shape in (WASHER, BEARING, DRUM, WASHER)]
    texts = list(ElementTree.fromstring(stack_picture(parts, "t")).iter(f"{SVG}text"))
    assert [text.text for text in texts] == ["1", "2", "3", "4"]
    assert [float(text.get("x", "")) for text in texts] == sorted(float(text.get("x", "")) for text in texts)


def stacks(engine: str, job: str) -> list[tuple[int, StackMark]]:
    steps = _job(engine, job).instructions.steps
    return [(step.number, mark) for step in steps for mark in step.marks if isinstance(mark, StackMark)]


def test_the_demo_s_clutch_is_a_stack_in_fitting_order_before_its_first_part() -> None:
    ((number, mark),) = stacks("023", "clutch-service")
    assert [(part.name, part.face, part.looks) for part in mark.parts] == [
        ("inner thrust washer", "chamfered side", "inwards"),
        ("O-ring of the shaft", "", ""),
        ("needle bearing of the drum", "", ""),
        ("clutch drum", "", ""),
        ("outer thrust washer", "", ""),
    ]
    step = _job("023", "clutch-service").instructions.steps[number - 1]
    assert re.match("Slide the inner thrust washer", step.text)


def test_a_job_without_a_row_of_round_parts_has_no_stack() -> None:
    assert stacks("023", "carburettor-service") == []
