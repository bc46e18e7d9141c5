"""A piece with its words and its outlines: what room it asks for, and how it stands in the place that it gets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, cached_property

from docgen.club.words import Words
from docgen.plan.laydown import Footprint, Piece
from docgen.sheets.drawings.silhouette import GAP, silhouettes
from docgen.sheets.figures import HARD, counted, figure, thread
from docgen.sheets.matplaces import NARROW, Box, Wish, spots
from docgen.sheets.measure import lines_of, longest_word, width
from docgen.sheets.scale import Scale

CLEAR, PAD = 4.0, 1.6
"""Clear space round each piece, and blank inside a place at its edges; mm."""


@dataclass(frozen=True)
class Lying:
    """A piece before it has a place.

    factor   : how large its outline is drawn; 1 is full size. Its place is never smaller than the piece itself, words
               included: laid down, it may cover its own words, and never reaches into the next place
    outlined : its outline is drawn; else the place holds words alone
    note     : a line of its own, where it lies elsewhere
    """

    piece: Piece
    scale: Scale
    words: Words
    factor: float = 1.0
    outlined: bool = True
    note: str = ""

    @property
    def foot(self) -> Footprint:
        """The room that one piece takes."""
        assert self.piece.footprint is not None
        return self.piece.footprint

    @cached_property
    def drawn(self) -> Footprint:
        """The outline of one piece."""
        foot, factor = self.foot, self.factor
        return replace(foot, width=foot.width * factor, height=foot.height * factor, bore=foot.bore * factor)

    @cached_property
    def name(self) -> str:
        """What it is called, and how many there are."""
        return counted(self.piece.name, self.piece.count)

    @cached_property
    def back(self) -> str:
        """In which row it goes back; the row's number stays with the word before it."""
        words = self.words("back in row {row}", row=self.piece.back) if self.piece.back else self.words("stays off")
        return HARD.join(words.rsplit(" ", 1))

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """What stands under its name."""
        piece, w = self.piece, self.words
        lines = [thread(piece.thread, w)] if piece.thread else []
        if piece.face:
            lines.append(w("{face} to {towards}", face=piece.face, towards=piece.towards))
        if piece.fate == "new":
            lines.append(w("A new one goes back") + (f": {figure(piece.number, w)}" if piece.number else ""))
        elif piece.fate == "checked":
            lines.append(w("New if its check fails"))
        return (*lines, self.note) if self.note else tuple(lines)

    @cached_property
    def mark(self) -> float:
        """The width of its number, mm."""
        return round(self.scale.number * (1.03 * width(self.piece.mark, bold=True) + 0.15), 2)

    @cached_property
    def least(self) -> float:
        """The least width of its place, mm."""
        scale = self.scale
        first = self.mark + 1.0 + scale.small * 1.03 * longest_word(self.back)
        name = scale.middle * 1.03 * longest_word(self.name, bold=True)
        said = max((scale.small * 1.03 * longest_word(line) for line in self.lines), default=0.0)
        piece = max(self.drawn.width + 2 * CLEAR, min(self.foot.width, self.foot.height)) if self.outlined else 0.0
        return max(min(NARROW, max(first, name, said) + 2 * PAD), piece)  # a word that is longer still is broken

    def text(self, width: float) -> float:
        """Height of its words in a place of some width, mm."""
        scale, room = self.scale, width - 2 * PAD
        back = lines_of(self.back, (room - self.mark) / scale.small)
        high = max(1.12 * scale.number, 1.2 * scale.small * back + 0.6)
        high += 1.16 * scale.middle * lines_of(self.name, room / scale.middle, bold=True)
        high += sum(1.2 * scale.small * lines_of(line, room / scale.small) + 0.4 for line in self.lines)
        return PAD + high + 1.0

    def outline(self, width: float) -> tuple[float, float]:
        """Width and height of its outlines in a place of some width, clear space not counted, mm."""
        columns, rows = self.spots(width)
        return columns * (self.drawn.width + GAP) - GAP, rows * (self.drawn.height + GAP) - GAP

    def height(self, width: float) -> float:
        """The height of its place at a width, mm: of words and outlines, and no less than its pieces take."""
        if not self.outlined:
            return self.text(width)
        low, long = sorted((self.foot.width, self.foot.height))
        drawn = self.text(width) + self.outline(width)[1] + 2 * CLEAR
        return max(drawn, low if width >= long else long, self.piece.count * low * long / width)

    def fits(self, widest: float, highest: float) -> bool:
        """Whether a place that is no wider and no higher holds it."""
        return self.least <= widest and self.height(min(widest, max(self.least, NARROW))) <= highest

    @cached_property
    def wish(self) -> Wish:
        """What it asks for."""
        return Wish(self.least, cache(self.height))

    def spots(self, width: float) -> tuple[int, int]:
        """Columns and rows of its outlines in a place of some width."""
        return spots(self.piece.count, self.drawn.width, self.drawn.height, width - 2 * CLEAR, GAP)


@dataclass(frozen=True)
class Place:
    """A piece in its place on the area of the mat."""

    lying: Lying
    box: Box

    @cached_property
    def shape(self) -> tuple[str, float, float]:
        """Its outlines, and where they stand in its place, mm; empty where it has none."""
        one, width = self.lying, self.box.width
        if not one.outlined:
            return "", 0.0, 0.0
        title = one.words("Place for {name}, {size}", name=one.name, size=size(one.foot, one.words))
        svg = silhouettes(one.drawn, *one.spots(width), one.piece.count, new=one.piece.fate == "new", title=title)
        (wide, high), text = one.outline(width), one.text(width)
        return svg, (width - wide) / 2, text + (self.box.height - text - high) / 2


def size(foot: Footprint, w: Words) -> str:
    """A piece's size in words."""
    if foot.round or foot.kind == "nut":
        return w("{size} mm across", size=w.number(f"{foot.width:g}")).replace(" ", HARD)
    width, height = w.number(f"{foot.width:g}"), w.number(f"{foot.height:g}")
    return w("{width} × {height} mm", width=width, height=height).replace(" ", HARD)
