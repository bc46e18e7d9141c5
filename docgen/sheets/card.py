"""The engine card: one engine's identity, hours, parts, readings and record, fit to hand to a buyer or a scrutineer.

Its items follow 14 CFR 91.417(a)(2) and 43.11(b), as a model of a good record: total time, status of parts with a
limited life, time since rebuilt, state of inspection, list of what is not in order.
"""

from __future__ import annotations

from dataclasses import replace

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job.wording import in_text
from docgen.plan.standing import Standing
from docgen.sheets.card_tables import told
from docgen.sheets.desk import desk_page
from docgen.sheets.drawings.sized import fitted
from docgen.sheets.figures import day
from docgen.sheets.page import Page
from docgen.sheets.signoff import FILE, MAST, SIDE

LOGO = (40.0, 18.0)
"""Room for the club's logo, mm."""


def card(one: Standing, club: Club) -> Page:
    """The card of an engine as it stands on a day."""
    w = Words.speaking(club.language)
    engine, model = one.record.engine, one.figures.model
    under = " · ".join(filter(None, (club.club, f"{w('serial')} {engine.serial}" if engine.serial else "")))
    digest = one.record.log.head
    page = desk_page(
        "card", w("Engine card"), model.title, club, one.on, w, engine=engine.engine, plate=MAST, left=FILE, right=SIDE,
        running=f"{w('Engine card')}: {model.title}", under=f"{under} · {w('as of {day}', day=day(one.on, w))}",
        top=26.0, foot=20.0, number=40.0, inset=1.0, least=14.0,
        identifier=f"{engine.engine}-{one.on.isoformat()}-{digest[:12] or 'EMPTY'}",
        logo=fitted(club.style.logo, club.club, *LOGO) if club.style.logo else "",
        digests=digest.split("+") if digest else [], **told(one, w),
    )  # fmt: skip
    title = f"{w('Engine card')}: {model.title}, {in_text(w('Engine'), w)} {engine.engine}"
    return replace(page, title=title, subject=f"{engine.engine} {one.on.isoformat()} {digest[:12]}".strip())
