"""A drawing with its words: beside it or under it, and its readings beside it where that saves height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from docgen.sheets.cells import Cell, Row, height, pack
from docgen.sheets.drawings.canvas import legible, size
from docgen.sheets.measure import lines_of, longest_word
from docgen.sheets.scale import Scale

PAD, INSIDE, TICK = 3.0, 5.5, 12.0
"""What a drawing's cell adds to its width, padding and rules of the words' cell, a tick box's cell; mm."""
WORTH = 3.0
"""Height that readings beside a drawing must save, mm, to stand there."""


@dataclass(frozen=True)
class Picture:
    """A drawing beside its words, with a tick box of its own; ``facing`` names what is drawn on its left.

    With ``legend``, its numbered parts are listed beside it. What it ``measures`` is in the cells that follow it, which
    may stand beside it.
    """

    svg: str
    label: str
    text: str
    ticked: bool = True
    facing: str = ""
    legend: tuple[str, ...] = ()
    measures: bool = False


@dataclass(frozen=True)
class Shown:
    """A picture laid out on ``room`` mm: its drawing's cell is ``width`` mm wide, its words beside or ``under`` it.

    rows : readings that stand beside the drawing, under its words
    """

    picture: Picture
    svg: str
    width: float
    room: float
    under: bool = False
    rows: tuple[Row, ...] = ()
    shape: Literal["picture"] = "picture"

    @property
    def beside(self) -> float:
        """Width for words beside the drawing, mm."""
        return self.room - self.width - INSIDE - (TICK if self.picture.ticked else 0.0)

    def sharing(self, cells: Sequence[Cell], scale: Scale) -> tuple[Shown, tuple[Row, ...]]:
        """The picture with as many of its cells beside it as save height, and the rows of the others below."""
        best, rest = self, pack(cells, self.room / scale.small)
        if self.under or not self.picture.measures or self.rows:
            return best, rest
        least = self.high(scale) + _sum(rest, self.room, scale) - WORTH
        for count in range(1, len(cells) + 1):
            if any(cell.wish > self.beside / scale.small for cell in cells[:count]):
                break
            near = replace(self, rows=pack(cells[:count], self.beside / scale.small))
            far = pack(cells[count:], self.room / scale.small)
            needed = near.high(scale) + _sum(far, self.room, scale)
            if needed < least:
                best, rest, least = near, far, needed
        return best, rest

    def high(self, scale: Scale) -> float:
        """Height that it takes, about; mm."""
        drawing = size(self.svg)[1] + 1.0 + (1.15 * scale.small if self.picture.facing else 0.0)
        words = _words(self.picture, self.room - INSIDE if self.under else self.beside, scale)
        return drawing + words if self.under else max(drawing, words + _sum(self.rows, self.beside, scale))


def shown(picture: Picture, room: float, scale: Scale) -> Shown:
    """The picture, its figures at least as large as the smallest type of the sheet, its words where they have room."""
    svg = legible(picture.svg, scale.small, room - PAD)
    made = Shown(picture, svg, round(size(svg)[0] + PAD, 2), room)
    needed = max(
        longest_word(picture.label) * scale.small,
        longest_word(picture.text, bold=True) * scale.step,
        *(longest_word(text) * scale.small for text in picture.legend),
    )
    under = replace(made, under=True)
    return under if made.beside < needed or under.high(scale) < made.high(scale) else made


def _words(picture: Picture, room: float, scale: Scale) -> float:
    ems = room / scale.small
    high = 1.28 * scale.small * sum(lines_of(text, ems) for text in (picture.label, *picture.legend))
    high += 1.28 * scale.step * lines_of(picture.text, room / scale.step, bold=True) if picture.text else 0.0
    return high + 2.0


def _sum(rows: Sequence[Row], room: float, scale: Scale) -> float:
    return sum(height(row, room, scale) for row in rows)
