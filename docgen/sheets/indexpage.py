"""The index of the printed sheets: one page of HTML that asks nothing of any other machine, for any browser."""

import base64
from collections.abc import Sequence
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


Group = tuple[str, str, str, list[tuple[int, Listed]]]
"""What belongs to one engine, or to one job: its anchor, title and short name, and its sheets with their numbers."""


def index_page(
    sheets: Sequence[Listed], models: dict[str, str], titles: dict[str, str], club: Club, on: date
) -> str:  # fmt: skip
    """The page. ``models`` names each engine's type, ``titles`` each job by its code."""
    w = Words.speaking(club.language)

    def group(anchor: str, title: str, short: str, key: str, value: str) -> Group:
        mine = [(n, one) for n, one in enumerate(sheets) if getattr(one, key) == value]
        mine.sort(key=lambda entry: (ORDER.index(entry[1].state), entry[1].href))
        return anchor, title, short, mine

    by_engine = [group(f"engine-{n}", f"{w('Engine')} {n}, {models[n]}", n, "engine", n) for n in sorted(models)]
    for key, text, name in (
        ("all", w("For all engines"), ""),
        ("readings", w.pgettext("sheets", "Readings"), READINGS),
        ("blank", w("Blank sets"), BLANK),
    ):
        by_engine.append(group(f"engine-{key}", text, text, "engine", name))
    codes = sorted({one.code for one in sheets if one.code})
    by_job = [group(f"job-{c}", f"{c} {titles.get(c, '')}".strip(), c, "code", c) for c in codes]
    return fill(
        "index.html.j2", w=w, club=club, as_of=w("as of {day}", day=day(on, w)), total=len(sheets),
        pictures=[(n, base64.b64encode(one.picture).decode("ascii")) for n, one in enumerate(sheets)],
        parts=[("by-engine", w("By engine"), [one for one in by_engine if one[-1]]), ("by-job", w("By job"), by_job)],
        counts=[(state, w(_STATES[state]), sum(one.state == state for one in sheets)) for state in ORDER],
        due=lambda listed: sum(one.state == DUE_NOW for _, one in listed), link=quote, states=_STATES, notes=_NOTES,
        day=lambda when: day(when, w),
    )  # fmt: skip
