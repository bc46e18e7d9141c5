"""A piece with its words and its outlines, as large as it is given: what room it asks for on a mat."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import ceil

from docgen.club.words import Words
from docgen.plan.laydown import Footprint, Piece
from docgen.sheets.drawings.canvas import PAPER, THIN, TINT, Canvas, Point
from docgen.sheets.drawings.pattern import hexagon
from docgen.sheets.figures import HARD, counted, figure, thread
from docgen.sheets.measure import Scale, lines_of, longest_word, width

CLEAR, PAD, GAP = 4.0, 1.6, 4.0
"""Clear space round each piece; blank inside a place at its edges; between the pieces of one place; mm."""
LABEL = 14.0
"""Least height of a place, mm."""
NARROW, WIDE = 70.0, 1.4
"""To save height a place may be made this wide, mm; a wider one, by this factor."""
_RIM = 0.15
"""Half of an outline's weight, which is drawn inside the stated size, mm."""


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

    @property
    def area(self) -> float:
        """The area that one piece takes, square mm."""
        return self.foot.width * self.foot.height

    @property
    def aside(self) -> Lying:
        """The same, said to lie beside the mat."""
        return replace(self, outlined=False, note=self.words("Lies beside the mat"))

    @cached_property
    def _drawn(self) -> Footprint:
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
        piece = max(self._drawn.width + 2 * CLEAR, min(self.foot.width, self.foot.height)) if self.outlined else 0.0
        return max(min(NARROW, max(first, name, said) + 2 * PAD), piece)  # a word that is longer still is broken

    def text(self, width: float) -> float:
        """Height of its words in a place of some width, mm."""
        scale, room = self.scale, width - 2 * PAD
        back = lines_of(self.back, (room - self.mark) / scale.small)
        high = max(1.12 * scale.number, 1.2 * scale.small * back + 0.6)
        high += 1.16 * scale.middle * lines_of(self.name, room / scale.middle, bold=True)
        high += sum(1.2 * scale.small * lines_of(line, room / scale.small) + 0.4 for line in self.lines)
        return PAD + high + 1.0

    @cached_property
    def _heights(self) -> dict[float, float]:
        return {}

    def height(self, width: float) -> float:
        """The height of its place at a width, mm: of words and outlines, and no less than its pieces take."""
        if width not in self._heights:
            needed = self.text(width)
            if self.outlined:
                low, long = sorted((self.foot.width, self.foot.height))
                drawn = needed + self._outline(width)[3] + 2 * CLEAR
                needed = max(drawn, low if width >= long else long, self.piece.count * low * long / width)
            self._heights[width] = max(needed, LABEL)
        return self._heights[width]

    def width(self, most: float) -> float:
        """The width of its place that wastes least paper, mm: no narrower than it must be, and not twice as wide."""
        end = min(most, 1.9 * self.least, max(NARROW, WIDE * self.least))
        widths = [self.least + 2 * n for n in range(int(max(0.0, end - self.least) / 2) + 1)]
        return min(widths, key=lambda width: (width + 4) * (self.height(width) + 4))

    def fits(self, widest: float, highest: float) -> bool:
        """Whether a place that is no wider and no higher holds it."""
        return self.least <= widest and self.height(min(widest, max(self.least, NARROW))) <= highest

    def _outline(self, width: float) -> tuple[int, int, float, float]:
        """Columns and rows of its outlines in a place of some width; how wide and high they are together, mm."""
        wide, high, count = self._drawn.width + GAP, self._drawn.height + GAP, self.piece.count
        columns = max(1, min(count, int((width - 2 * CLEAR + GAP + 1e-6) // wide)))
        rows = ceil(count / columns)
        columns = ceil(count / rows)
        return columns, rows, columns * wide - GAP, rows * high - GAP

    def shape(self, width: float, height: float) -> tuple[str, float, float]:
        """Its outlines, and where they stand in its place, mm; empty where it has none.

        A piece that goes back is grey; one that does not is white, dashed.
        """
        if not self.outlined:
            return "", 0.0, 0.0
        columns, _, wide, high = self._outline(width)
        title = self.words("Place for {name}, {size}", name=self.name, size=_size(self.foot, self.words))
        canvas, piece = Canvas(wide, high, title), self._drawn
        ground, dash = (PAPER, "1.2 0.8") if self.piece.fate == "new" else (TINT, "")
        for n in range(self.piece.count):
            at = (n % columns * (piece.width + GAP), n // columns * (piece.height + GAP))
            _draw(canvas, piece, at, ground, dash)
        text = self.text(width)
        return canvas.svg(), (width - wide) / 2, text + (height - text - high) / 2


def _draw(canvas: Canvas, piece: Footprint, at: Point, ground: str, dash: str) -> None:
    """The outline of one piece; of a screw head and shank, along the longer side."""
    width, height = piece.width - 2 * _RIM, piece.height - 2 * _RIM
    middle = (at[0] + piece.width / 2, at[1] + piece.height / 2)
    if piece.kind == "screw" and not piece.round:
        lying = piece.width > piece.height
        wide, long = sorted((piece.width, piece.height))
        head, edge = long / 5, wide / 4
        bent = canvas.bent(lambda p: (at[0] + p[0], at[1] + p[1]) if lying else (at[0] + p[1], at[1] + p[0]))
        bent.rectangle(_RIM, _RIM, head - _RIM, wide - 2 * _RIM, THIN, ground, 0.6, dash)
        bent.rectangle(head, edge, long - head - _RIM, wide / 2, THIN, ground, 0.6, dash)
        if not dash:
            bent.line((head, edge), (head, wide - edge), THIN)
        return
    if piece.round:
        canvas.circle(middle, width / 2, THIN, ground, dash)
    elif piece.kind == "nut":
        canvas.polygon(hexagon(middle, piece.width / 2 - 0.87 * _RIM), THIN, ground, dash)
    else:
        corner = min(2.0, min(width, height) / 4)
        canvas.rectangle(at[0] + _RIM, at[1] + _RIM, width, height, THIN, ground, corner, dash)
    if piece.bore:
        canvas.circle(middle, piece.bore / 2, THIN, PAPER, dash)


def _size(foot: Footprint, w: Words) -> str:
    """A piece's size in words."""
    if foot.round or foot.kind == "nut":
        return w("{size} mm across", size=w.number(f"{foot.width:g}")).replace(" ", HARD)
    width, height = w.number(f"{foot.width:g}"), w.number(f"{foot.height:g}")
    return w("{width} × {height} mm", width=width, height=height).replace(" ", HARD)
