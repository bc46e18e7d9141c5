"""A page made of its templates, and its head; and the pages read at a desk or on the wall, which share head, foot and
masthead. Apart from the page itself, which the press knows without all this.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from docgen.club.schema.club import Club
from docgen.club.schema.sidefiles import Glossary
from docgen.club.words import Words
from docgen.sheets.figures import capital, day, figure, minutes
from docgen.sheets.jinja import fill
from docgen.sheets.measure import shortened, width
from docgen.sheets.page import PAPERS, Body, Numbers, Page
from docgen.sheets.signals import signal

WALL = 14.0
"""Both margins of a sheet that hangs alone, mm."""


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


def glossary_page(glossary: Glossary, club: Club, on: date) -> Page:
    """The terms of the trade that the club's jobs use, as they stand in its file, from A to Z in columns."""
    w = Words.speaking(club.language)
    terms = [(capital(name), figure(term.means, w)) for name, term in glossary.terms.items()]
    terms.sort(key=lambda one: one[0].casefold())
    return desk_page("glossary", w("Glossary"), w("Terms of the trade"), club, on, w, terms=terms)
