"""The season's wall chart: engines down, weeks across, a line at every round; in each gap the jobs of its visit."""

from collections.abc import Iterator
from datetime import timedelta

from docgen.club.folder import Folder
from docgen.club.schema.club import Round
from docgen.club.words import Words
from docgen.sheets.composition import desk_page
from docgen.sheets.figures import minutes
from docgen.sheets.page import PAPERS, Page
from docgen.visit.season import Season

SIDE, FIRST = 10.0, 18.0
"""Margins at the sides, and the width of the column with the engines' numbers, mm."""


def season_chart(plan: Season, folder: Folder) -> Page:
    """The chart, on the club's paper laid across. A longer gap is wider; none is too narrow to write in."""
    club = folder.club.value
    w = Words.speaking(club.language)
    first = 100 * FIRST / (PAPERS[club.paper].height - 2 * SIDE)
    return desk_page(
        "season", w("Season"), w("Which visit before which round"), club, plan.on, w, left=SIDE, right=SIDE, top=20.0,
        least=11.0, across=True, first_column=round(first, 3), gaps=list(_gaps(plan, w, 100 - first)), plan=plan,
        codes=lambda jobs: " ".join(sorted(folder.procedures[job].value.code for job in jobs)),
        faults=list(_faults(plan, folder, w)),
    )  # fmt: skip


def _gaps(plan: Season, w: Words, room: float) -> Iterator[tuple[Round, list[str], float, str]]:
    """Each gap of the season: its round, the weeks that it is wide, its share of the width, its hours on the bench.

    Half of the room is shared out evenly, so that a short gap has room for words, and half by the weeks.
    """
    days = [(b - a).days for a, b in plan.gaps]
    for g, (one, count) in enumerate(zip(plan.rounds, days, strict=True)):
        share = room * (0.5 / len(days) + 0.5 * count / max(1, sum(days)))
        dates = (plan.gaps[g][0] + timedelta(days=n) for n in range(1, count + 1))
        bench = minutes(sum(plan.minutes(engine, g) for engine in plan.engines), w)
        if (limit := plan.room[g]) is not None:
            bench += f" / {minutes(round(limit), w)}"
        yield one, list(dict.fromkeys(f"{when.isocalendar().week}" for when in dates)), round(share, 3), bench


def _faults(plan: Season, folder: Folder, w: Words) -> Iterator[str]:
    for one in plan.late[:1]:
        title = folder.procedures[one.need.job].value.title
        breaks = {"job": title, "engine": one.need.engine, "round": plan.rounds[one.until].round}
        yield w("No plan keeps every limit. The first that breaks: {job}, engine {engine}, before {round}.", **breaks)
    for gap, over in sorted(plan.plan.extra.items()):
        hours, before = w.number(f"{over / 60:.1f}"), plan.rounds[gap].round
        yield w("Too few hours on the bench: {hours} h more are needed before {round}.", hours=hours, round=before)
