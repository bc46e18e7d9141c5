"""The glossary's page: the terms of the trade that the club's jobs use, from A to Z."""

from __future__ import annotations

from datetime import date

from docgen.club.schema.club import Club
from docgen.club.schema.glossary import Glossary
from docgen.sheets.figures import capital, day, figure
from docgen.sheets.head import head_of
from docgen.sheets.jinja import fill
from docgen.sheets.page import Page
from docgen.sheets.pagewords import PageWords
from docgen.sheets.paper import PAPERS

TOP, FOOT, SIDE, COLUMNS = 22.0, 14.0, 14.0, 3


def glossary_page(glossary: Glossary, club: Club, on: date, words: PageWords | None = None) -> Page:
    """The terms in columns, as they stand in the club's file, in the order of the alphabet."""
    w = words or PageWords.speaking(club.language)
    paper = PAPERS[club.paper]
    under = f"{club.club} · {w.as_of.format(day=day(on, w))}"
    head = head_of(w.glossary, w.glossary_title, under, room=paper.width - 2 * SIDE, plate=26.0, size=4.2, small=3.35,
                   least=12.0)  # fmt: skip
    terms = sorted(glossary.terms.items(), key=lambda one: one[0].casefold())
    values = {
        "w": w,
        "club": club,
        "paper": paper,
        "side": SIDE,
        "top": TOP,
        "foot": FOOT,
        "columns": COLUMNS,
        "head": head,
        "mast_plate": 26.0,
        "mast_figure": 0,
        "under": under,
        "terms": [(capital(name), figure(term.means, w)) for name, term in terms],
    }
    return Page(
        html=fill("glossary.html.j2", **values),
        css=fill("glossary.css.j2", **values),
        title=f"{w.glossary}: {club.club}, {on.isoformat()}",
        subject=f"{w.glossary} {on.isoformat()}",
        identifier=f"GLOSSARY-{on.isoformat()}",
        language=w.language,
    )
