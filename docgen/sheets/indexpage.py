"""The index of the printed sheets: one page of HTML that asks nothing of any other machine, for any browser."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from docgen.club.schema.club import Club
from docgen.club.words import Words, message
from docgen.sheets.figures import day
from docgen.sheets.jinja import fill

DUE_NOW, CURRENT, SUPERSEDED, UNKNOWN = "due", "current", "superseded", "unknown"
"""A job's sheet that holds and whose job is due; one that holds; one that no longer does; one that nothing tells of."""
BLANK, READINGS = "BLANK", "READINGS"
"""The groups of the blank sets, and of the readings that are for an engine type."""
ORDER = (DUE_NOW, CURRENT, UNKNOWN, SUPERSEDED)
_STATES = {
    "due": message("Due"),
    "current": message("Current"),
    "superseded": message("Superseded"),
    "unknown": message("Not compared"),
}
_NOTES = {
    "changed": message("the instructions have changed since"),
    "again": message("it was printed again since"),
    "filed": message("signed, and in the record"),
    "record": message("the record has gone on since"),
}


@dataclass(frozen=True)
class Listed:
    """One PDF. ``note`` says why it is superseded: changed, again, filed, record; ``picture`` is its first page."""

    href: str
    title: str
    engine: str
    code: str
    state: str
    note: str
    pages: int
    on: date | None
    picture: bytes


@dataclass(frozen=True)
class Entry:
    """One line of the page."""

    sheet: Listed
    link: str
    picture: str
    state: str
    note: str
    said: str


@dataclass(frozen=True)
class Group:
    """What belongs to one engine, or to one job."""

    anchor: str
    title: str
    short: str
    entries: tuple[Entry, ...]

    @property
    def due(self) -> int:
        """How many of its sheets are due."""
        return sum(one.sheet.state == DUE_NOW for one in self.entries)


def index_page(
    sheets: Sequence[Listed], models: dict[str, str], titles: dict[str, str], club: Club, on: date,
) -> str:  # fmt: skip
    """The page. ``models`` names each engine's type, ``titles`` each job by its code."""
    w = Words.speaking(club.language)
    entries = [_entry(sheet, n, w) for n, sheet in enumerate(sheets)]
    engines = [name for name in sorted(models) if any(one.engine == name for one in sheets)]
    by_engine = [_group(f"engine-{n}", f"{w('Engine')} {n}, {models[n]}", n, entries, engine=n) for n in engines]
    rest = [
        ("all", w("For all engines"), ""),
        ("readings", w.pgettext("sheets", "Readings"), READINGS),
        ("blank", w("Blank sets"), BLANK),
    ]
    by_engine += [_group(f"engine-{key}", text, text, entries, engine=name) for key, text, name in rest]
    codes = sorted({one.code for one in sheets if one.code})
    by_job = [_group(f"job-{c}", f"{c} {titles.get(c, '')}".strip(), c, entries, code=c) for c in codes]
    return fill(
        "index.html.j2",
        w=w,
        club=club,
        as_of=w("as of {day}", day=day(on, w)),
        pictures=[(n, base64.b64encode(one.picture).decode("ascii")) for n, one in enumerate(sheets)],
        parts=[
            ("by-engine", w("By engine"), [one for one in by_engine if one.entries]),
            ("by-job", w("By job"), by_job),
        ],
        counts=[(state, w(_STATES[state]), sum(one.state == state for one in sheets)) for state in ORDER],
        total=len(sheets),
    )


def _entry(sheet: Listed, n: int, w: Words) -> Entry:
    pages = w("{count} pages", count=sheet.pages) if sheet.pages != 1 else w("1 page")
    made = (w("made for {day}", day=day(sheet.on, w)),) if sheet.on else ()
    note = w(_NOTES[sheet.note]) if sheet.note else ""
    return Entry(sheet, quote(sheet.href), f"p{n}", w(_STATES[sheet.state]), note, " · ".join((pages, *made)))


def _group(
    anchor: str, title: str, short: str, entries: Iterable[Entry], *, engine: str | None = None, code: str | None = None
) -> Group:
    mine = [
        one
        for one in entries
        if (engine is not None and one.sheet.engine == engine) or (code is not None and one.sheet.code == code)
    ]
    mine.sort(key=lambda one: (ORDER.index(one.sheet.state), one.sheet.href))
    return Group(anchor, title, short, tuple(mine))
