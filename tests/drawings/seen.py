"""The demo's marks, and drawings taken apart: their shapes, their words, what they say aloud."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

from docgen.club.folder import Folder
from docgen.club.read import read_club
from docgen.job.marks import Mark
from docgen.job.resolve import resolve
from docgen.sheets.measure import width

ROOT = Path(__file__).resolve().parents[2]
ON = date(2027, 2, 20)
SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@cache
def club() -> Folder:
    """The demo club."""
    return read_club(ROOT)


@cache
def marks_of(engine: str, job: str) -> tuple[Mark, ...]:
    """Every mark of a job on one engine."""
    folder = club()
    steps = resolve(folder, folder.engines[engine], folder.procedures[job], ON).instructions.steps
    return tuple(mark for step in steps for mark in step.marks)


def one_engine_each() -> dict[str, str]:
    """An engine of each type."""
    return {record.engine.model: number for number, record in sorted(club().engines.items(), reverse=True)}


@dataclass(frozen=True)
class Shape:
    """A closed or open line with its paint."""

    points: tuple[Point, ...]
    fill: str
    weight: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def size(self) -> Point:
        """Width and height."""
        left, top, right, bottom = self.box
        return right - left, bottom - top


def polygons(svg: str) -> list[Shape]:
    """Every polygon, in the order in which they are drawn."""
    return [
        Shape(
            tuple((float(x), float(y)) for x, y in (pair.split(",") for pair in one.attrib["points"].split())),
            one.attrib["fill"],
            float(one.attrib.get("stroke-width", "0")),
        )
        for one in ElementTree.fromstring(svg).iter(f"{SVG}polygon")
    ]


def title_of(svg: str) -> str:
    """The alternative text."""
    title = ElementTree.fromstring(svg).find(f"{SVG}title")
    assert title is not None
    return title.text or ""


def size_of(svg: str) -> Point:
    """Width and height, mm."""
    root = ElementTree.fromstring(svg)
    return float(root.attrib["width"].removesuffix("mm")), float(root.attrib["height"].removesuffix("mm"))


@dataclass(frozen=True)
class Text:
    """Words in a drawing: where they begin and end, the middle of their capitals, their size; mm."""

    words: str
    left: float
    right: float
    middle: float
    size: float


def texts(svg: str) -> Iterator[Text]:
    """The words of a drawing, with their room by the typeface's own figures."""
    for one in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        size, x, words = float(one.attrib["font-size"]), float(one.attrib["x"]), one.text or ""
        long = width(words, bold="font-weight" in one.attrib) * size
        left = x - {"start": 0.0, "middle": long / 2, "end": long}[one.attrib["text-anchor"]]
        yield Text(words, left, left + long, float(one.attrib["y"]) - 0.334 * size, size)


def ends(numbers: str) -> list[float]:
    """The figures of an attribute."""
    return [float(one) for one in re.findall(r"-?[0-9.]+", numbers)]
