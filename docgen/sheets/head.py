"""The head of every page: the engine's number on its plate, the job, room for the code."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.measure import shortened, width


@dataclass(frozen=True)
class Head:
    """Sizes in mm. ``plate`` is the plate's width, ``figure`` the size of the number on it."""

    height: float
    plate: float
    figure: float
    title: str
    under: str


def number_size(number: str, box: float, largest: float) -> float:
    """The size at which an engine's number fills its plate: as large as the box's width lets it be."""
    return round(min(largest, (box - 6.0) / width(number, bold=True)), 2)


def head_of(
    number: str, title: str, under: str, *, room: float, plate: float, size: float, small: float, least: float
) -> Head:
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
