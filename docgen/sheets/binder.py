"""The binder's own pages: its contents, which name where each sheet begins, and the sides that stay blank."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from docgen.club.schema.club import Club
from docgen.club.words import Words, message
from docgen.sheets.composition import desk_page
from docgen.sheets.figures import HARD, day
from docgen.sheets.jinja import fill
from docgen.sheets.page import PAPERS, Page
from docgen.sheets.signoff import FILE, SIDE


@dataclass(frozen=True)
class BinderSheet:
    """A sheet as the contents name it. ``group`` is its engine; ``number`` that of its first page, with its check."""

    group: str
    kind: str
    title: str
    number: str


@dataclass(frozen=True)
class Where:
    """Where it came to lie: first page in the file, how many, its size in mm, and what a link to it names."""

    page: int
    pages: int
    size: tuple[float, float]
    anchor: str


def contents(sheets: Sequence[BinderSheet], where: Sequence[Where], engine: str, club: Club, on: date) -> Page:
    """The contents page. ``engine`` is the one that the binder is for; empty for a day's work on several."""
    w = Words.speaking(club.language)
    title = w("All for engine {engine}", engine=engine) if engine else w("Work of {day}", day=day(on, w))
    # A section with an odd number of pages brings a blank side.
    last = max((at.page + at.pages - 1 + at.pages % 2 for at in where), default=0)
    rows = [(sheet, at, paper_name(at.size)) for sheet, at in zip(sheets, where, strict=True)]
    return desk_page(
        "binder", w("Binder"), title, club, on, w, engine=engine, left=FILE, right=SIDE, top=24.0, foot=18.0, first=9.0,
        number=40.0, about=title, identifier=f"BINDER-{engine or 'DAY'}-{on.isoformat()}",
        groups=[(name, list(each)) for name, each in groupby(rows, key=lambda row: row[0].group)],
        total=w("{sheets} sheets on {pages} pages.", sheets=len(rows), pages=last),
    )  # fmt: skip


BLANK_SIDE = message("Blank on purpose: the next sheet begins on a front page.")


def blank_side(size: tuple[float, float], club: Club) -> Page:
    """The back of a sheet whose last page is a front page: it says that nothing is missing."""
    w = Words.speaking(club.language)
    width, height = size
    css = (
        f"@page {{ size: {width}mm {height}mm; margin: 20mm }} html {{ font: 9.5pt/1.3 Body }} body {{ margin: 0 }}"
        f" p {{ margin: {height / 2 - 30:.1f}mm 0 0; text-align: center }}"
    )
    html = fill("blankside.html.j2", w=w, said=w(BLANK_SIDE))
    return Page(html, css, w(BLANK_SIDE), w(BLANK_SIDE), "BLANK-SIDE", w.language)


def paper_name(size: tuple[float, float]) -> str:
    """A sheet of paper by its size in mm, either way round: A4, A3, Letter.

    >>> paper_name((420.0, 297.0)), paper_name((100.0, 80.0)).replace(HARD, " ")
    ('A3', '100 × 80 mm')
    """
    for paper in PAPERS.values():
        if all(abs(a - b) < 0.5 for a, b in zip(sorted(size), (paper.width, paper.height), strict=True)):
            return paper.name
    return f"{size[0]:g} × {size[1]:g} mm".replace(" ", HARD)
