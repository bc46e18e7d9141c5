"""The glossary's page: the terms of the trade that the club's jobs use, from A to Z."""

from __future__ import annotations

from datetime import date

from docgen.club.schema.beside import Glossary
from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.sheets.desk import desk_page
from docgen.sheets.figures import capital, figure
from docgen.sheets.page import Page


def glossary_page(glossary: Glossary, club: Club, on: date) -> Page:
    """The terms in columns, as they stand in the club's file, in the order of the alphabet."""
    w = Words.speaking(club.language)
    terms = [(capital(name), figure(term.means, w)) for name, term in glossary.terms.items()]
    terms.sort(key=lambda one: one[0].casefold())
    return desk_page("glossary", w("Glossary"), w("Terms of the trade"), club, on, w, terms=terms)
