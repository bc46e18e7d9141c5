"""The due board for the wall: one block an engine, a bar for each interval and each limited life.

Two distances: an engine's number and where it stands are read from across the room, its bars from as near as the
bench, by the same rule as the bench leaf (``measure.py``). Type never shrinks to make the club fit: its board then goes
on over more pages, the pressing engines first, and its first page then shows all engines in a strip.
"""

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from markupsafe import Markup

from docgen.club.schema.club import Club
from docgen.club.words import Words, message
from docgen.job import wording
from docgen.plan.board import Bar, Board, EngineBars
from docgen.plan.reasons import OVERDUE
from docgen.sheets.composition import number_size, page_of
from docgen.sheets.drawings.plot import used_bar
from docgen.sheets.figures import HARD, capital, day, figure
from docgen.sheets.jinja import PRECEDENCE
from docgen.sheets.measure import Scale, lines_of, scale_for, shortened, width
from docgen.sheets.page import PAPERS, Page, Paper

EDGE = 8.0
"""Blank margin round the page, mm."""
ACROSS = 2000.0
"""The distance from which an engine's number is read, across a bench with its engine on it; mm."""
CELL = 61.0
"""About how wide a bar with its words is, mm."""
GAP = 3.0
"""Between cells, mm."""


class Cell(NamedTuple):
    """A bar with its words. ``when`` is the tag behind it: now, or the round before which it must be seen to."""

    code: str
    name: str
    figures: str
    when: str
    state: str
    svg: Markup


class Block(NamedTuple):
    """One engine: its plate, its cells in rows, and what else there is to say, in one paragraph."""

    engine: EngineBars
    figure: float
    under: str
    rows: tuple[tuple[Cell, ...], ...]
    note: str


class Sizes:
    """Lengths of a page, mm.

    plate, number  : width of an engine's plate; size of its number, a capital of which is 0.004 of the distance across
                     the room high, or as the plate lets
    room, columns  : width right of the plates, and how many cells stand there side by side
    cell           : width of one: its bar, its figures, its tag
    """

    def __init__(self, paper: Paper, scale: Scale) -> None:
        self.paper, self.scale = paper, scale
        self.plate, self.number = 33.0, round(0.004 * ACROSS / 0.668, 2)
        self.room = paper.width - 2 * EDGE - self.plate - GAP
        self.columns = max(1, int((self.room + GAP) // CELL))
        self.cell = round((self.room - (self.columns - 1) * GAP) / self.columns, 3)
        self.figures, self.tag = round(7.3 * scale.small, 3), round(2.6 * scale.small, 3)
        self.bar = round(self.cell - self.figures - self.tag - 2.0, 3)
        self.high = round(1.3 * scale.small, 2)

    def foot_lines(self, w: Words) -> int:
        """Lines of the foot, the number of the page beside them."""
        room, key = (length / self.scale.small for length in (self.paper.width - 2 * EDGE - 32.0, 28.0))
        meaning, rest = _foot(w)
        return (lines_of(meaning, room - key) if room > key else 3) + lines_of(rest, room)


_KEY = message("Black: used up. Heavy line: what is allowed. Ticks: after each round to come.")


def _foot(w: Words) -> tuple[str, str]:
    """What the bars and tags mean, and what holds for all of it."""
    tags = w("White on black: over. Heavy frame: due now. The figure: before which round.")
    estimates = w("Trends are estimates. Hours at a meeting are each engine’s own, or the club’s figure.")
    return f"{w(_KEY)} {tags}", f"{estimates} {w(PRECEDENCE)}"


def board_page(found: Board, club: Club, paper: Paper | None = None) -> Page:
    """The board on a paper lying on its long side (the club's own by default)."""
    w = Words.speaking(club.language)
    sizes = Sizes((paper or PAPERS[club.paper]).across, scale_for(club.bench_distance))
    blocks = [_block(one, found, sizes, w) for one in found.engines]
    nameless = {code for one in found.engines for code in one.unrecorded}  # said in words below all
    legend = "; ".join(f"{code}{HARD}{title}" for code, title in found.titles.items() if code in nameless)
    title, day_of = f"{w('Due board')} · {club.club}", found.on.isoformat()
    return page_of(
        "board", w, f"{title}, {day_of}", f"BOARD-{day_of}", subject=f"{w('Due board')} {day_of}", club=club,
        paper=sizes.paper, scale=sizes.scale, sizes=sizes, edge=EDGE, gap=GAP, title=title, foot=_foot(w),
        foot_height=round(EDGE + 2.0 + 1.2 * sizes.scale.small * sizes.foot_lines(w), 2), blocks=blocks,
        as_of=w("as of {day}", day=day(found.on, w)), strip=() if _on_one_page(blocks, sizes, w) else blocks,
        rounds=[(n, one.round, day(one.date, w)) for n, one in enumerate(found.rounds, 1)], legend=legend,
        key=used_bar(0.45, (0.6, 0.75, 0.9), 26.0, sizes.high, w(_KEY)),
    )  # fmt: skip


def _block(one: EngineBars, found: Board, sizes: Sizes, w: Words) -> Block:
    cells = [_cell(bar, found.titles.get(bar.code, ""), sizes, w) for bar in one.bars]
    rows = tuple(tuple(cells[n : n + sizes.columns]) for n in range(0, len(cells), sizes.columns))
    never = f"{w('No record that it was ever done')}: {', '.join(one.unrecorded)}" if one.unrecorded else ""
    hours = wording.hours(one.hours, w)
    hours = hours if one.hours_known else w("{hours} since the record began", hours=hours)
    under = f"{capital(w(one.state))} · {figure(hours, w)}"
    size = number_size(one.engine, sizes.plate - 3.0, sizes.number)
    said = [f"{text.rstrip('.')}." for text in (*one.notes, never) if text]
    return Block(one, size, under, rows, figure(" ".join(capital(text) for text in said), w))


def _cell(bar: Bar, title: str, sizes: Sizes, w: Words) -> Cell:
    scale, small = bar.scale, sizes.scale.small
    share = None if scale.used is None else float(scale.used / scale.allowed) if scale.allowed else 1.0
    later = [float(one / scale.allowed) for one in scale.rounds] if scale.allowed else []
    said = used_of(bar, w)
    name = capital(bar.part or title)
    room = sizes.cell / small - (width(bar.code, bold=True) + 0.6 if bar.code else 0.0)
    spoken = f"{bar.code} {name}: {said}, {w(bar.state)}".strip()
    if width(said) * small > sizes.figures and scale.used is not None:
        said = _of(bar, w("{used} of {allowed}"), w)
    return Cell(
        bar.code, shortened(name, room) if name else "", said,
        w("now") if bar.state == OVERDUE else str(bar.first) if bar.first else "", bar.state,
        used_bar(share, later, sizes.bar, sizes.high, spoken),
    )  # fmt: skip


def used_of(bar: Bar, w: Words) -> str:
    """What is used up of what is allowed, in the fewest words: 5.8 of 5 h, 3 of 4 meetings, by 2027-02-15."""
    scale = bar.scale
    if scale.until is not None:
        return w("by {day}", day=scale.until.isoformat()).replace(" ", HARD)
    if scale.used is None:
        return _of(bar, w("? of {allowed} h"), w)
    return _of(bar, w("{used} of {allowed} meetings") if scale.unit == "meetings" else w("{used} of {allowed} h"), w)


def _of(bar: Bar, pattern: str, w: Words) -> str:
    used = float(bar.scale.used or 0)
    allowed = f"{Decimal(round(bar.scale.allowed * 10)) / 10:f}".removesuffix(".0")
    said = f"{used:.1f}" if bar.scale.unit == "hours" else str(int(used))
    return pattern.format(used=w.number(said), allowed=w.number(allowed)).replace(" ", HARD)


def _on_one_page(blocks: Sequence[Block], sizes: Sizes, w: Words) -> bool:
    """Whether all blocks fit on one page. An estimate on the safe side: a strip too many does no harm."""
    small, high = sizes.scale.small, 2 * EDGE + 30.0 + 1.25 * sizes.scale.small * sizes.foot_lines(w)
    for block in blocks:
        lines = lines_of(block.note, sizes.room / small) if block.note else 0
        cells = len(block.rows) * (2.76 * small + 1.0) + 1.25 * small * lines
        high += max(1.12 * block.figure + 1.3 * small, cells) + 2.4
    return high <= sizes.paper.height
