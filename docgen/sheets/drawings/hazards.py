"""What harms, as small pictures of our own: they are not the pictograms of the label, and do not take their form."""

from __future__ import annotations

from collections.abc import Callable

from docgen.sheets.drawings.canvas import INK, PAPER, Canvas


def _flame(c: Canvas) -> None:
    c.path("M10 1.5Q14.5 6 13.2 9.4Q15.4 8.6 15.4 6.6Q18.2 10.4 16.4 14.6Q14.6 18.6 10 18.6Q5.4 18.6 3.7 14.6"
           "Q2.2 10.6 6.2 7.2Q9.6 4.6 10 1.5Z", 0, INK)  # fmt: skip
    c.path("M10.2 10.4Q13 13.2 12.2 15.4Q11.6 17.2 10 17.2Q7.6 17.2 7.4 15Q7.3 13 10.2 10.4Z", 0, PAPER)


def _can(c: Canvas) -> None:
    c.rectangle(6.4, 6.4, 7.2, 12, 1.4, PAPER, 1)
    c.rectangle(8.4, 3, 3.2, 3.4, 0, INK)
    for inner, outer in ((4.8, 1.5), (15.2, 18.5)):
        c.line((inner, 9), (outer, 8), 1.4)
        c.line((inner, 12.4), (outer, 12.4), 1.4)


def _mouth(c: Canvas) -> None:
    c.path("M1.6 9.6Q5.6 4.6 8.2 6.2Q10 7.2 11.8 6.2Q14.4 4.6 18.4 9.6Q14.4 16.4 10 16.4Q5.6 16.4 1.6 9.6Z", 0, INK)
    c.path("M4.4 9.8Q10 11.6 15.6 9.8Q13 12.6 10 12.6Q7 12.6 4.4 9.8Z", 0, PAPER)


def _skin(c: Canvas) -> None:
    c.path("M3 18.6L3 12.6Q3 11.2 4.4 11.2L16 11.2Q18 11.2 18 13Q18 14.8 16 14.8L10.6 14.8L10.6 18.6Z", 1.3, PAPER)
    c.path("M10 1.4Q13 5.2 13 6.8Q13 9 10 9Q7 9 7 6.8Q7 5.2 10 1.4Z", 0, INK)


def _eye(c: Canvas) -> None:
    c.path("M1.2 10Q5.4 3.8 10 3.8Q14.6 3.8 18.8 10Q14.6 16.2 10 16.2Q5.4 16.2 1.2 10Z", 1.5, PAPER)
    c.circle((10, 10), 3.4, 0, INK)


def _breath(c: Canvas) -> None:
    for y in (5, 10, 15):
        c.path(f"M1.8 {y}Q4.6 {y - 3} 7.4 {y}Q10.2 {y + 3} 13 {y}Q15.4 {y - 2.6} 18.2 {y}", 1.7)


def _long(c: Canvas) -> None:
    c.line((4.6, 1.8), (15.4, 1.8), 1.6)
    c.line((4.6, 18.2), (15.4, 18.2), 1.6)
    c.path("M5.8 2.6L14.2 2.6Q14.2 7 11 10Q14.2 13 14.2 17.4L5.8 17.4Q5.8 13 9 10Q5.8 7 5.8 2.6Z", 1.3, PAPER)
    c.path("M7 17L13 17Q12.6 14.4 10 13Q7.4 14.4 7 17Z", 0, INK)


def _water(c: Canvas) -> None:
    for y in (13, 17):
        c.path(f"M1.6 {y}Q4.4 {y - 3} 7.2 {y}Q10 {y + 2.6} 12.8 {y}Q15.6 {y - 3} 18.4 {y}", 1.5)
    c.path("M3.4 6.6Q8 2.2 12.8 6.2L16.8 3.4L16.8 9.8L12.8 7.2Q8 11 3.4 6.6Z", 0, INK)


HAZARDS: dict[str, Callable[[Canvas], None]] = {
    "flame": _flame,
    "can": _can,
    "mouth": _mouth,
    "skin": _skin,
    "eye": _eye,
    "breath": _breath,
    "long": _long,
    "water": _water,
}


def hazard(name: str, title: str) -> str:
    """One picture on a 20 by 20 field, filling the box it is put in; `title` is its alternative text."""
    canvas = Canvas(20, 20, title)
    HAZARDS[name](canvas)
    return canvas.svg(sized=False)
