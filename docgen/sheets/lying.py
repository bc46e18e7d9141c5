"""A piece with its words and its outlines: what room it asks for, and how it stands in the place that it gets."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.plan.laydown import Footprint, Piece
from docgen.sheets.drawings.silhouette import GAP, silhouettes
from docgen.sheets.figures import HARD, counted, figure, thread
from docgen.sheets.matpage import PAD, Place
from docgen.sheets.matplaces import Box, Wish, spots
from docgen.sheets.measure import lines_of, longest_word
from docgen.sheets.pagewords import PageWords
from docgen.sheets.scale import Scale

CLEAR = 4.0
"""Clear space round each piece, mm."""


@dataclass(frozen=True)
class Lying:
    """A piece before it has a place.

    outlined : its outline is drawn; else the place holds words alone
    note     : a line of its own, where it lies elsewhere
    """

    piece: Piece
    scale: Scale
    words: PageWords
    outlined: bool = True
    note: str = ""

    @property
    def foot(self) -> Footprint:
        """The room that one piece takes."""
        assert self.piece.footprint is not None
        return self.piece.footprint

    @property
    def name(self) -> str:
        """What it is called, and how many there are."""
        return counted(self.piece.name, self.piece.count)

    @property
    def back(self) -> str:
        """In which step it goes back."""
        return self.words.back_in.format(step=self.piece.back) if self.piece.back else self.words.stays_off

    @property
    def lines(self) -> tuple[str, ...]:
        """What stands under its name."""
        piece, w = self.piece, self.words
        lines = [thread(piece.thread, w)] if piece.thread else []
        if piece.face:
            lines.append(w.faces.format(face=piece.face, towards=piece.towards))
        if piece.fate == "new":
            lines.append(w.fate_new + (f": {figure(piece.number, w)}" if piece.number else ""))
        elif piece.fate == "checked":
            lines.append(w.fate_checked)
        return (*lines, self.note) if self.note else tuple(lines)

    @property
    def least(self) -> float:
        """The least width of its place, mm."""
        scale = self.scale
        first = scale.number * (0.62 * len(self.piece.mark) + 0.3) + scale.small * 0.55 * len(self.back)
        name = scale.middle * 1.03 * longest_word(self.name, bold=True)
        said = max((scale.small * 1.03 * longest_word(line) for line in self.lines), default=0.0)
        return max(first + 2 * PAD, name + 2 * PAD, said + 2 * PAD, self.foot.width + 2 * CLEAR if self.outlined else 0)

    def text(self, width: float) -> float:
        """Height of its words in a place of some width, mm."""
        scale, room = self.scale, width - 2 * PAD
        high = 1.12 * scale.number
        high += 1.16 * scale.middle * lines_of(self.name, room / scale.middle, bold=True)
        high += sum(1.2 * scale.small * lines_of(line, room / scale.small) + 0.4 for line in self.lines)
        return PAD + high + 1.0

    def outline(self, width: float) -> tuple[float, float]:
        """Width and height of its outlines in a place of some width, clear space not counted, mm."""
        columns, rows = self._spots(width)
        return columns * (self.foot.width + GAP) - GAP, rows * (self.foot.height + GAP) - GAP

    def fits(self, widest: float, highest: float) -> bool:
        """Whether a place that is no wider and no higher holds it."""
        return self.least <= widest and self.wish.height(max(self.least, min(widest, 70.0))) <= highest

    @property
    def wish(self) -> Wish:
        """What it asks for."""
        return Wish(
            self.least, self.text, lambda width: self.outline(width)[1] + 2 * CLEAR if self.outlined else 0.0
        )

    def place(self, box: Box, words: float) -> Place:
        """It in its place. ``words`` is the width that its words may take."""
        svg, left, top = "", 0.0, 0.0
        if self.outlined:
            columns, rows = self._spots(box.width)
            title = self.words.place_for.format(name=self.name, size=size(self.foot, self.words))
            count, new = self.piece.count, self.piece.fate == "new"
            svg = silhouettes(self.foot, columns, rows, count, new=new, title=title)
            wide, high = self.outline(box.width)
            text = self.text(words)
            left, top = (box.width - wide) / 2, text + (box.height - text - high) / 2
        where = (box.left, box.top, box.width, box.height, words)
        return Place(self.piece, *where, self.name, self.back, self.lines, svg, left, top)

    def _spots(self, width: float) -> tuple[int, int]:
        return spots(self.piece.count, self.foot.width, self.foot.height, width - 2 * CLEAR, GAP)


def size(foot: Footprint, w: PageWords) -> str:
    """A piece's size in words."""
    if foot.round or foot.kind == "nut":
        return w.across.format(size=w.number(f"{foot.width:g}")).replace(" ", HARD)
    return w.size_of.format(width=w.number(f"{foot.width:g}"), height=w.number(f"{foot.height:g}")).replace(" ", HARD)
