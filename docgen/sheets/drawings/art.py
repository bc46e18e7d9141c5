"""Pictures that no figure changes: SVG files under ``templates/drawings``, put on a canvas from there.

A file holds a family of pictures: each group that has a name (``id``) and its place on the sheet (``transform``), which
only matters to who edits it. Shapes are path, rect, circle and use; pens, grounds and dashes are SVG's, inherited and
by class. What SVG has no word for, as an attribute, or in a class as ``--hatch``:

===============  ================================================================================================
``data-hatch``   cut through: hatched at this spacing, mm; falling to the right where it is less than nought
``data-head``    a line that is an arrow, with a head of this length, mm
``class="gap"``  a line that is a double arrow between two edges
``data-when``    drawn only where one of these names is asked for
``text``         a place for words or a number, at the middle of its capitals; its class says what for
===============  ================================================================================================
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from xml.etree import ElementTree

from docgen.sheets.drawings.canvas import Canvas, Point, commands
from docgen.sheets.jinja import template_folder

_SVG = "{http://www.w3.org/2000/svg}"
Given = Mapping[str, str]


@dataclass(frozen=True)
class Text:
    """A place for words or a number: what it is for, what it bears in the file, and all that is said about it."""

    kind: str
    name: str
    at: Point
    given: Given


@dataclass(frozen=True)
class Art:
    """One picture, or a part of one: its file, its group, what holds for it from outside, the classes of its file."""

    file: str
    group: ElementTree.Element
    outside: Given
    classes: Mapping[str, Given]

    @property
    def given(self) -> Given:
        """Every attribute that holds in its group."""
        return self._own(self.group, self.outside)

    @property
    def title(self) -> str:
        """Its title; empty where it has none."""
        return self.group.findtext(f"{_SVG}title") or ""

    @property
    def size(self) -> Point | None:
        """Its width and height as stated, mm; None where all of its file have one size."""
        width, _, height = self.group.get("data-size", "").partition(" ")
        return (float(width), float(height)) if height else None

    def parts(self) -> list[Art]:
        """The groups in it."""
        given = self.given
        return [Art(self.file, one, given, self.classes) for one in self.group.findall(f"{_SVG}g")]

    def draw(self, canvas: Canvas, *when: str) -> None:
        """Put it on a canvas. Errors: ValueError for a shape that is none of the above."""
        for shape, given in self.shapes(*when):
            _drawn(self, canvas, shape, given, when)

    def texts(self, *when: str) -> list[Text]:
        """Its places for words and numbers, in order."""
        return [
            Text(given.get("class", ""), one.text or "", (float(given["x"]), float(given["y"])), given)
            for one, given in self.shapes(*when)
            if one.tag == f"{_SVG}text"
        ]

    def shapes(self, *when: str) -> Iterator[tuple[ElementTree.Element, Given]]:
        """Every shape with what holds for it."""
        given = self.given
        for one in self.group:
            if "data-when" in one.attrib and not set(when) & set(one.attrib["data-when"].split()):
                continue
            if one.tag == f"{_SVG}g":
                yield from Art(self.file, one, given, self.classes).shapes(*when)
            elif one.tag != f"{_SVG}title":
                yield one, self._own(one, given)

    def _own(self, one: ElementTree.Element, outside: Given) -> Given:
        found = {**outside, **one.attrib}
        for name in one.get("class", "").split():
            found |= self.classes.get(name, {})
        return found


def _rules(text: str) -> dict[str, str]:
    pairs = (rule.partition(":") for rule in text.split(";"))
    return {key.strip(): value.strip() for key, _, value in pairs if value}


@cache
def groups(file: str) -> dict[str, Art]:
    """Every group with a name in a file, those that pictures are made of (``defs``) included."""
    root = ElementTree.parse(template_folder() / "drawings" / f"{file}.svg").getroot()
    style = (root.findtext(f"{_SVG}style") or "").replace("--", "data-")
    classes = {name: _rules(text) for name, text in re.findall(r"\.(\w+) *{([^}]*)}", style)}
    pens = {key: root.attrib[key] for key in ("fill", "stroke", "stroke-width")}
    return {one.attrib["id"]: Art(file, one, pens, classes) for one in root.iter(f"{_SVG}g") if "id" in one.attrib}


def pictures(file: str) -> dict[str, Art]:
    """Every picture of a file, by its name."""
    return {name: one for name, one in groups(file).items() if "transform" in one.group.attrib}


def _drawn(art: Art, canvas: Canvas, shape: ElementTree.Element, given: Given, when: tuple[str, ...]) -> None:
    weight = 0.0 if given["stroke"] == "none" else float(given["stroke-width"])
    fill, dash = given["fill"], given.get("stroke-dasharray", "")

    def lengths(*names: str) -> list[float]:
        return [float(shape.get(one, "0")) for one in names]

    match shape.tag.removeprefix(_SVG):
        case "path" if not re.search("[QCAqca]", shape.attrib["d"]):
            for points, closed in outlines(shape.attrib["d"]):
                _outline(canvas, points, closed, weight, given)
        case "path":
            canvas.path(shape.attrib["d"], weight, fill, dash)
        case "rect":
            x, y, width, height, radius = lengths("x", "y", "width", "height", "rx")
            canvas.rectangle(x, y, width, height, weight, fill, radius, dash)
        case "circle":
            x, y, radius = lengths("cx", "cy", "r")
            canvas.circle((x, y), radius, weight, fill, dash)
        case "use":
            x, y = lengths("x", "y")
            groups(art.file)[shape.attrib["href"].removeprefix("#")].draw(canvas.within((x, y), 1.0), *when)
        case "text":
            pass
        case other:
            raise ValueError(f"templates/drawings/{art.file}.svg: <{other}> is no shape of drawings")


def _outline(canvas: Canvas, points: list[Point], closed: bool, weight: float, given: Given) -> None:
    """One outline of straight lines: cut, a surface, an arrow, or a line."""
    if hatch := float(given.get("data-hatch", "0")):
        canvas.hatched(points, abs(hatch), 1 if hatch > 0 else -1, weight)
    elif closed:
        canvas.polygon(points, weight, given["fill"], given.get("stroke-dasharray", ""))
    elif given.get("class") == "gap":
        canvas.gap(points[0], points[1])
    elif "data-head" in given:
        canvas.arrow(points[0], points[1], weight, float(given["data-head"]))
    elif len(points) == 2:
        canvas.line(points[0], points[1], weight, given.get("stroke-dasharray", ""))
    else:
        canvas.polyline(points, weight)


@cache
def outlines(d: str) -> list[tuple[list[Point], bool]]:
    """The corners of each outline of a path of straight lines, and whether it is closed."""
    found: list[tuple[list[Point], bool]] = []
    for command, values in commands(d):
        if command == "M":
            found.append(([], False))
        if command == "Z":
            found[-1] = (found[-1][0], True)
        else:
            found[-1][0].append((values[0], values[1]))
    return found
