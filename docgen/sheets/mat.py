"""The layout mat: one sheet with a numbered place for each piece that comes off, in the order of the work.

A place bears the number of the leaf's row in which its piece comes off, with a letter where several do, and says in
which row it goes back. Outlines are drawn at full size where all places fit on the sheet; else smaller, all by one
factor; then the largest pieces lie beside the mat; and only where that is not enough, the mat is split by the stages of
the work.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from typing import NamedTuple

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.job import Instructions
from docgen.plan.laydown import Footprint, Laydown, Piece, stage_of
from docgen.sheets.figures import HARD
from docgen.sheets.matpage import ORDER, Frame, hanging, mat_page, strip
from docgen.sheets.matpiece import CLEAR, Lying
from docgen.sheets.matplaces import MatRow, rowed, stretched
from docgen.sheets.measure import scale_for
from docgen.sheets.page import PAPERS, Page, Paper

MAT = "M"
"""The sheet letter of a mat's number."""
SPARE = 20.0
"""Least height of the strip at the foot for what else comes off, mm."""
FACTORS = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)
"""How large outlines are drawn. Smaller than half, those of small screws look alike. Common practice, no source."""
HAND = 100.0
"""What is no longer than a hand is broad is lost or taken for another: it never lies beside the mat; mm. Common
practice, no source."""

NEARLY_EMPTY = 3
"""A sheet of a split mat is nearly empty with less than this part of its even share of places."""


@dataclass(frozen=True)
class Mat:
    """A mat that was laid out.

    factor : how large its outlines are drawn; 1 is full size
    beside : how many places say that their piece lies beside the mat
    sheets : how many it is; more than one where it is split
    """

    page: Page
    paper: Paper
    factor: float
    beside: int
    sheets: int


def mat(laid: Laydown, told: Instructions, club: Club, paper: str = "") -> Mat:
    """The mat of a job. Every piece has a footprint (the caller has refused those without).

    paper : the name of one of ``papers``; without it, the club's own if that holds all at full size that twice that can
            hold at all, else twice that
    """
    own, twice = papers(club).values()
    if paper:
        return _best(laid, told, club, papers(club)[paper], FACTORS)
    first = _best(laid, told, club, own, FACTORS[:1])
    larger = [_Try(laid, told, club, side, 1.0) for side in (twice, twice.across)]
    too_large = min(sum(not piece.outlined for piece in one.lying.values()) for one in larger)
    if first.sheets == 1 and first.beside <= too_large:
        return first
    return _best(laid, told, club, twice, FACTORS)


def papers(club: Club) -> dict[str, Paper]:
    """What a club can print a mat on: its own paper, and twice that."""
    own = PAPERS[club.paper]
    twice = Paper({"A4": "A3", "Letter": "Tabloid"}[own.name], own.height, 2 * own.width)
    return {own.name: own, twice.name: twice}


class _Sheet(NamedTuple):
    """The pieces of one sheet, and their rows."""

    ready: tuple[Lying, ...]
    rows: tuple[MatRow, ...]

    @property
    def beside(self) -> int:
        """How many pieces lie beside it."""
        return sum(not one.outlined for one in self.ready)


def _best(laid: Laydown, told: Instructions, club: Club, paper: Paper, factors: Sequence[float]) -> Mat:
    """On the fewest sheets, upright or across; then the fewest pieces beside it; then the largest outlines."""
    found = []
    for side in (paper, paper.across):
        least = _Try(laid, told, club, side, factors[-1])
        parts = least.parts()
        beside = [one.beside for one in least.sheets(parts)]
        for factor in factors:
            tried = _Try(laid, told, club, side, factor)
            sheets = tried.sheets(parts, beside)
            if len(sheets) == len(parts):
                found.append((len(parts), sum(beside), -factor, tried, sheets))
                break
    *_, tried, sheets = min(found, key=lambda one: one[:3])
    return tried.made(sheets)


@dataclass(frozen=True)
class _Try:
    """A mat tried on one paper, with its outlines at one size."""

    laid: Laydown
    told: Instructions
    club: Club
    paper: Paper
    factor: float

    @cached_property
    def frame(self) -> Frame:
        """What it is printed on."""
        w = Words.speaking(self.told.tongue)
        percent = round(100 * self.factor)
        said = w("Outlines at full size.") if percent == 100 else w("Outlines at {percent} %.", percent=percent)
        order = f"{w(ORDER)} {HARD.join(said.rsplit(' ', 1))}"
        scale = scale_for(self.club.bench_distance)
        return Frame(self.told, self.club, self.paper, scale, w("Layout mat"), MAT, w, order)

    def made(self, sheets: Sequence[_Sheet]) -> Mat:
        """The finished mat."""
        pages, turned, w = [], [], self.frame.words
        for n, sheet in enumerate(sheets, 1):
            room = self._room if n == len(sheets) else self.frame.height
            pages.append(list(stretched(sheet.rows, room)))
            first, last = sheet.ready[0].piece.mark, sheet.ready[-1].piece.mark
            part = w("{page} of {pages}: {first} to {last}", page=n, pages=len(sheets), first=first, last=last)
            turned.append(part if len(sheets) > 1 else "")
        page = mat_page(self.frame, self.laid, pages, turned)
        return Mat(page, self.paper, self.factor, sum(sheet.beside for sheet in sheets), len(sheets))

    def parts(self) -> list[list[Piece]]:
        """The fewest sheets, with all large pieces beside, by stages of the work.

        A stage that is too much for one sheet is split by its rows, a row by its pieces; and by rows goes all where
        stages would leave a sheet nearly empty.
        """
        by: tuple[Callable[[Piece], int], ...] = (lambda one: stage_of(one, self.told), lambda one: one.off, id)
        parts = self._shared(self._cut(self.laid.pieces, by))
        if min(map(len, parts)) < len(self.laid.pieces) / len(parts) / NEARLY_EMPTY:
            parts = self._shared(self._cut(self.laid.pieces, by[1:]))
        return parts

    def _shared(self, units: Sequence[Sequence[Piece]]) -> list[list[Piece]]:
        """Units on the fewest sheets; of as many, those filled most evenly."""
        best: list[tuple[int, int, list[list[Piece]]]] = [(0, 0, [])]
        for end in range(1, len(units) + 1):
            found = []
            for start in range(end - 1, -1, -1):
                part = [piece for unit in units[start:end] for piece in unit]
                if end - start > 1 and not self._rowed([self._small(one) for one in part]):
                    break
                count, uneven, before = best[start]
                found.append((count + 1, uneven + len(part) ** 2, [*before, part]))
            best.append(min(found, key=lambda one: one[:2]))
        return best[-1][2]

    def _cut(self, pieces: Sequence[Piece], by: Sequence[Callable[[Piece], int]]) -> list[Sequence[Piece]]:
        """Groups that are not parted: the coarsest of which each is held by one sheet."""
        found: list[Sequence[Piece]] = []
        for group in (list(group) for _, group in groupby(pieces, by[0])):
            whole = not by[1:] or self._rowed([self._small(one) for one in group])
            found += [group] if whole else self._cut(group, by[1:])
        return found

    def sheets(self, parts: Sequence[Sequence[Piece]], beside: Sequence[int] = ()) -> list[_Sheet]:
        """The sheets with as few pieces beside each as can be, or as are said; without those that hold too little."""
        most = beside or [len(part) for part in parts]
        tried = [self._sheet(part, count) for part, count in zip(parts, most, strict=True)]
        return [one for one in tried if one is not None]

    def _sheet(self, pieces: Sequence[Piece], most: int) -> _Sheet | None:
        """The pieces on one sheet, no more than some of them beside it, the largest first."""
        large = [piece for piece in pieces if piece.mark in self._aside]
        large.sort(key=lambda one: -self.lying[one.mark].area)
        for count in range(len(large) + 1):
            ready = tuple(self._small(one) if one in large[:count] else self.lying[one.mark] for one in pieces)
            if (rows := self._rowed(ready)) is not None and (sheet := _Sheet(ready, rows)).beside <= most:
                return sheet
        return None

    @cached_property
    def lying(self) -> dict[str, Lying]:
        """Each piece with its outline, or beside where the paper cannot hold it."""
        frame, found = self.frame, {}
        for piece in self.laid.pieces:
            one = Lying(_turned(piece, frame.width, self.factor), frame.scale, frame.words, self.factor)
            found[piece.mark] = one if one.fits(frame.width, self._room) else one.aside
        return found

    @cached_property
    def _aside(self) -> dict[str, Lying]:
        """Each large piece without its outline."""
        large = {mark: one for mark, one in self.lying.items() if max(one.foot.width, one.foot.height) > HAND}
        return {mark: one.aside for mark, one in large.items() if one.outlined}

    def _small(self, piece: Piece) -> Lying:
        return self._aside.get(piece.mark, self.lying[piece.mark])

    def _rowed(self, ready: Sequence[Lying]) -> tuple[MatRow, ...] | None:
        return rowed(ready, self.frame.width, self._room)

    @cached_property
    def _room(self) -> float:
        return self.frame.height - max(SPARE, strip(hanging(self.laid, self.frame.words), self.frame))


def _turned(piece: Piece, room: float, factor: float) -> Piece:
    """A single longish piece lies along the lines of text where it can, so that its place is no higher than needed."""
    foot = piece.footprint
    if foot is None or foot.round or foot.kind == "nut" or piece.count > 1:
        return piece
    low, high = sorted((foot.width, foot.height))
    lying = (high, low) if high * factor + 2 * CLEAR <= room else (low, high)
    return replace(piece, footprint=Footprint(foot.kind, *lying))
