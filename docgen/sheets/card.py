"""The engine card: one engine's identity, hours, parts, readings and record, fit to hand to a buyer or a scrutineer.

Its items follow 14 CFR 91.417(a)(2) and 43.11(b), as a model of a good record: total time, status of parts with a
limited life, time since rebuilt, state of inspection, list of what is not in order.
"""

from __future__ import annotations

from docgen.club.schema.club import Club
from docgen.job.wording import in_text
from docgen.plan.standing import Standing
from docgen.sheets import card_tables as tables
from docgen.sheets.drawings.brought import fitted
from docgen.sheets.figures import capital, day, figure
from docgen.sheets.head import head_of, number_size
from docgen.sheets.jinja import fill
from docgen.sheets.page import Page
from docgen.sheets.paper import PAPERS
from docgen.sheets.signoff import FILE, MAST, SIDE
from docgen.sheets.words import Words

TOP, FOOT = 26.0, 20.0
"""Margins at head and foot, mm."""
LOGO = (40.0, 18.0)
"""Room for the club's logo, mm."""


def card(one: Standing, club: Club, words: Words | None = None) -> Page:
    """The card of an engine as it stands on a day."""
    w = words or Words.speaking(club.language)
    paper, engine = PAPERS[club.paper], one.record.engine
    under = " · ".join(filter(None, (club.club, f"{w.serial} {engine.serial}" if engine.serial else "")))
    head = head_of(
        engine.engine,
        f"{w.engine_card}: {one.figures.model.title}",
        f"{under} · {w.as_of.format(day=day(one.on, w))}",
        room=paper.width - FILE - SIDE,
        plate=26.0,
        size=4.2,
        small=3.35,
        least=14.0,
    )
    digest = one.record.log.head
    values = {
        "w": w,
        "club": club,
        "logo": fitted(club.style.logo, club.club, *LOGO) if club.style.logo else "",
        "one": one,
        "engine": engine,
        "model": one.figures.model,
        "paper": paper,
        "file": FILE,
        "side": SIDE,
        "top": TOP,
        "foot": FOOT,
        "head": head,
        "mast_plate": MAST,
        "mast_figure": number_size(engine.engine, MAST, 13.0),
        "day": lambda when: day(when, w),
        "figure": lambda text: figure(text, w),
        "capital": capital,
        "identity": tables.identity(one, w),
        "totals": tables.totals(one, w),
        "tables": [table for table in tables.tables(one, w) if table.rows],
        "halves": [tables.owners(one, w), tables.running(one, w)],
        "record": tables.record(one, w),
        "digests": digest.split("+") if digest else [],
    }
    return Page(
        html=fill("card.html.j2", **values),
        css=fill("card.css.j2", **values),
        title=f"{w.engine_card}: {one.figures.model.title}, {in_text(w.engine, w)} {engine.engine}",
        subject=f"{engine.engine} {one.on.isoformat()} {digest[:12]}".strip(),
        identifier=f"{engine.engine}-{one.on.isoformat()}-{digest[:12] or 'EMPTY'}",
        language=w.language,
    )
