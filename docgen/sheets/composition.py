"""A page made of its templates, and its head. Apart from the page itself, which the press knows without all this."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from docgen.club.words import Words
from docgen.sheets.figures import capital, day, figure, minutes
from docgen.sheets.jinja import fill
from docgen.sheets.measure import shortened, width
from docgen.sheets.numbering import Numbers
from docgen.sheets.page import Body, Page
from docgen.sheets.signals import signal


def page_of(
    stem: str, w: Words, title: str, identifier: str, /, *, subject: str = "",
    drawings: Mapping[str, str] | None = None, qr: Mapping[str, str] | None = None, body: Body | None = None,
    numbers: Numbers | None = None, **values: Any,
) -> Page:  # fmt: skip
    """The page that the templates ``stem`` make of values, in the language of ``w``; with a body, its faces too."""
    given = {
        "w": w,
        "body": body,
        "capital": capital,
        "figure": lambda text: figure(text, w),
        "day": lambda when: day(when, w),
        "minutes": lambda count: minutes(count, w),
        "warning": lambda message: signal(message, w),
        **values,
    }
    return Page(
        html=fill(f"{stem}.html.j2", **given),
        css=fill(f"{stem}.css.j2", **given),
        title=title,
        subject=subject or identifier,
        identifier=identifier,
        language=w.language,
        drawings=drawings or {},
        codes=qr or {},
        body=body,
        faces=fill(f"{stem}_faces.css.j2", **given) if body else "",
        numbers=numbers,
    )


@dataclass(frozen=True)
class Head:
    """Sizes in mm. ``plate`` is the plate's width, ``figure`` the size of the engine's number on it."""

    height: float
    plate: float
    figure: float
    title: str
    under: str


def number_size(number: str, box: float, largest: float) -> float:
    """The size at which an engine's number fills its plate: as large as the box's width lets it be."""
    return round(min(largest, (box - 6.0) / width(number, bold=True)), 2)


def head_of(
    number: str, title: str, under: str, *, room: float, plate: float, size: float = 4.2, small: float = 3.35,
    least: float
) -> Head:  # fmt: skip
    """The head of the second and following pages: the title on two lines at most, what stands under it on one.

    room   : width beside the code, mm
    plate  : width of the plate, mm
    size   : size of the title's type, mm; ``small`` of what stands under it
    least  : height that the code needs, mm
    """
    text = room - plate - 4.0
    height = max(least, 2 * 1.15 * size + 1.28 * small + 0.5)
    return Head(
        height=round(height, 2),
        plate=plate,
        figure=number_size(number, plate, height * 0.74),
        title=shortened(title, text / size, 2, bold=True),
        under=shortened(under, text / small),
    )
