"""The engine card: one engine's identity, hours, parts, readings and record, fit to hand to a buyer or a scrutineer.

Its items follow 14 CFR 91.417(a)(2) and 43.11(b), as a model of a good record: total time, status of parts with a
limited life, time since rebuilt, state of inspection, list of what is not in order.
"""

import math
from dataclasses import replace
from datetime import date

from docgen.club.schema.club import Club
from docgen.club.words import Words
from docgen.job import wording
from docgen.job.readings import in_short
from docgen.plan.history import Line
from docgen.plan.standing import Measured, Standing
from docgen.sheets.composition import desk_page
from docgen.sheets.drawings.chosen import fitted
from docgen.sheets.drawings.plot import reading_plot, used_bar
from docgen.sheets.figures import HARD, capital, figure
from docgen.sheets.figures import day as unbroken_day
from docgen.sheets.page import Page
from docgen.sheets.signoff import FILE, MAST, SIDE
from docgen.sheets.tables import widths
from docgen.trade.limits import Verdict

LOGO = (40.0, 18.0)
"""Room for the club's logo, mm."""
Cell = tuple[str, str, str]
"""A labelled value of the card's head, and a note on it."""


def card(one: Standing, club: Club) -> Page:
    """The card of an engine as it stands on a day."""
    w = Words.speaking(club.language)
    engine, model = one.record.engine, one.figures.model
    under = " · ".join(filter(None, (club.club, f"{w('serial')} {engine.serial}" if engine.serial else "")))
    digest = one.record.log.head
    page = desk_page(
        "card", w("Engine card"), model.title, club, one.on, w, engine=engine.engine, plate=MAST, left=FILE, right=SIDE,
        running=f"{w('Engine card')}: {model.title}", top=26.0, foot=20.0, number=40.0, inset=1.0, least=14.0,
        under=f"{under} · {w('as of {day}', day=unbroken_day(one.on, w))}",
        identifier=f"{engine.engine}-{one.on.isoformat()}-{digest[:12] or 'EMPTY'}",
        logo=fitted(club.style.logo, club.club, *LOGO) if club.style.logo else "",
        digests=digest.split("+") if digest else [], one=one, identity=_identity(one, w), totals=_totals(one, w),
        measured=sorted(one.measured, key=_pressing), record=[line for line in one.lines if not line.run],
        widths=widths, outside=Verdict.REJECT, day=lambda when: _day(when, w),
        hours=lambda hours: figure(wording.hours(hours, w), w), in_text=lambda text: wording.in_text(text, w),
        band=lambda ends: figure(ends, w) if ends else "",
        values=lambda last: figure(" / ".join(wording.quantity(value, w) for value in last.values), w),
        trend=lambda each: _trend(each, w), plot=lambda each: reading_plot(each, w),
        bar=lambda share: used_bar(float(share), (), 26.0, 3.4, f"{share:.0%}"), notes=lambda line: _notes(line, w),
    )  # fmt: skip
    title = f"{w('Engine card')}: {model.title}, {wording.in_text(w('Engine'), w)} {engine.engine}"
    return replace(page, title=title, subject=f"{engine.engine} {one.on.isoformat()} {digest[:12]}".strip())


def _day(when: date, w: Words) -> str:
    """A date that may break between its words: columns are narrow here."""
    return unbroken_day(when, w).replace(HARD, " ")


def _identity(one: Standing, w: Words) -> tuple[Cell, ...]:
    """What the engine is and whose."""
    engine, model = one.record.engine, one.figures.model
    cells = (
        (w("Model"), model.title),
        (capital(w("serial")), engine.serial or ""),
        (w("Displacement"), figure(model.displacement, w) if model.displacement else ""),
        (w("Keeper"), one.state.keeper),
        (w("In the record since"), _day(engine.received, w)),
        (w("Maker’s manual"), model.manual),
    )
    return tuple((label, text, "") for label, text in cells if text)


def _totals(one: Standing, w: Words) -> tuple[Cell, ...]:
    """The hours that a buyer asks for first."""
    state, engine = one.state, one.record.engine
    received = _day(engine.received, w)
    before = w("since the record began on {day}; hours before are not known", day=received)
    if state.hours_known and engine.hours is not None:
        hours = figure(engine.hours, w)
        before = w("{hours} when it was received on {day}; the rest follows from the log", hours=hours, day=received)
    rebuilt, by = w("no rebuild on record"), ""
    if one.since_rebuilt is not None:
        rebuilt = figure(wording.hours(one.since_rebuilt, w), w)
    if one.rebuilt:
        by = w("on {day}, approved by {by}", day=_day(one.rebuilt[0].day, w), by=one.rebuilt[1].approved_by)
    last, met = w("no run on record"), ""
    if state.runs:
        last, met = _day(state.runs[-1][0].day, w), state.runs[-1][1].meeting or ""
    return (
        (w("Total hours"), figure(wording.hours(state.hours, w), w), before),
        (w("Hours since it was rebuilt"), rebuilt, by),
        (w("Last run"), last, met),
    )


def _trend(each: Measured, w: Words) -> str:
    band = each.limit.allow
    if not each.forecast or not band or len(each.readings) < 2:
        return ""
    return figure(in_short(each.forecast, wording.unit(band.unit, w), w), w)


def _pressing(each: Measured) -> tuple[bool, float, str]:
    """Those outside their limit first, then those that reach it soonest."""
    left = each.forecast.left if each.forecast and each.forecast.left is not None else math.inf
    return each.verdict is not Verdict.REJECT, left, each.name


def _notes(line: Line, w: Words) -> list[str]:
    """The details of an entry; who corrected it, why, and what holds instead."""
    notes = [figure(text, w) for text in line.details]
    if line.corrected is None:
        return notes
    by = f", {line.corrected.by}" if line.corrected.by else ""
    holds = f"{w('holds now')}: {line.corrected.holds}" if line.corrected.holds else w("this entry does not count")
    why = f"{w('Corrected')} {_day(line.corrected.day, w)}{by}: {line.corrected.why}"
    return [*notes, why, *(figure(text, w) for text in (holds, *line.corrected.details))]
