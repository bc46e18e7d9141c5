"""The pages read at a desk or on the wall: one head, foot and masthead for kit list, binder, card and their like."""

from __future__ import annotations

from datetime import date
from typing import Any

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.sheets.composition import head_of, number_size, page_of
from docgen.sheets.figures import day
from docgen.sheets.page import PAPERS, Page

WALL = 14.0
"""Both margins of a sheet that hangs alone, mm."""


def desk_page(
    stem: str, what: str, title: str, club: Club, on: date, w: Words, *, engine: str = "", running: str = "",
    under: str = "", plate: float = 34.0, left: float = WALL, right: float = WALL, top: float = 22.0,
    foot: float = 14.0, number: float = 26.0, first: float = 10.0, inset: float = 0.0, least: float = 12.0,
    across: bool = False, about: str = "", identifier: str = "", **values: Any,
) -> Page:  # fmt: skip
    """A page of `what`, from the templates ``stem``, with a masthead on its first side and a head on the others.

    engine : on the plate; without one, there is no plate
    running, under : on the other sides; without them, what the page is of, the club and the day
    left, right, top, foot : margins, mm; of the first side the top is `first`
    number : room that the page's number takes of the foot, mm
    inset  : by how much head and foot stand further in than usual, mm
    about  : what the file's title names; without it, the club
    """
    paper = PAPERS[club.paper].across if across else PAPERS[club.paper]
    as_of, wall, room = w("as of {day}", day=day(on, w)), left == right, paper.width - left - right
    running, under = running or (what if wall else title), under or f"{club.club} · {as_of}"
    return page_of(
        stem, w, f"{what}: {about or club.club}, {on.isoformat()}", identifier or f"{stem.upper()}-{on.isoformat()}",
        subject=f"{what} {on.isoformat()}", club=club, what=what, title=title, engine=engine, as_of=as_of,
        head=head_of(engine or what, running, under, room=room, plate=26.0, least=least),
        page={"width": paper.width, "height": paper.height, "left": left, "right": right, "top": top, "foot": foot,
              "number": number, "first": first, "inset": inset, "wall": wall},
        mast_plate=plate, mast_figure=number_size(engine, plate, 13.0) if engine else 0, **values,
    )  # fmt: skip
