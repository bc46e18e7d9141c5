"""What the engine card tells beyond what its template asks of the engine's standing."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

from markupsafe import Markup

from docgen.club.words import Words
from docgen.job import wording
from docgen.job.readings import in_short
from docgen.plan.history import Line
from docgen.plan.standing import Measured, Standing
from docgen.sheets.card_plots import reading_plot
from docgen.sheets.drawings.plot import bar
from docgen.sheets.figures import HARD, capital, figure
from docgen.sheets.figures import day as unbroken_day
from docgen.sheets.tables import widths
from docgen.trade.limits import Verdict
from docgen.trade.quantity import Band

Cell = tuple[str, str, str]
"""A labelled value of the card's head, and a note on it."""


def told(one: Standing, w: Words) -> dict[str, Any]:
    """What the template asks for: the head's cells, the readings in their order, and how figures are set in type."""

    def band(ends: Band | None) -> str:
        return figure(wording.band(ends, w), w) if ends else ""

    return {
        "one": one,
        "identity": identity(one, w),
        "totals": totals(one, w),
        "measured": sorted(one.measured, key=_pressing),
        "record": [line for line in one.lines if not line.run],
        "widths": widths,
        "day": lambda when: day(when, w),
        "hours": lambda hours: figure(wording.hours(hours, w), w),
        "band": band,
        "in_text": lambda text: wording.in_text(text, w),
        "values": lambda last: figure(" / ".join(wording.quantity(value, w) for value in last.values), w),
        "outside": Verdict.REJECT,
        "trend": lambda each: _trend(each, w),
        "plot": lambda each: reading_plot(each, w),
        "bar": lambda share: Markup(bar(share, f"{share:.0%}")),
        "notes": lambda line: _notes(line, w),
    }


def day(when: date, w: Words) -> str:
    """A date that may break between its words: columns are narrow here."""
    return unbroken_day(when, w).replace(HARD, " ")


def identity(one: Standing, w: Words) -> tuple[Cell, ...]:
    """What the engine is and whose."""
    engine, model = one.record.engine, one.figures.model
    cells = (
        (w("Model"), model.title),
        (capital(w("serial")), engine.serial or ""),
        (w("Displacement"), figure(wording.quantity(model.displacement, w), w) if model.displacement else ""),
        (w("Keeper"), one.state.keeper),
        (w("In the record since"), day(engine.received, w)),
        (w("Maker’s manual"), model.manual),
    )
    return tuple((label, text, "") for label, text in cells if text)


def totals(one: Standing, w: Words) -> tuple[Cell, ...]:
    """The hours that a buyer asks for first."""
    state, engine = one.state, one.record.engine
    received = day(engine.received, w)
    before = w("since the record began on {day}; hours before are not known", day=received)
    if state.hours_known and engine.hours is not None:
        hours = figure(wording.quantity(engine.hours, w), w)
        before = w("{hours} when it was received on {day}; the rest follows from the log", hours=hours, day=received)
    rebuilt, by = w("no rebuild on record"), ""
    if one.since_rebuilt is not None:
        rebuilt = figure(wording.hours(one.since_rebuilt, w), w)
    if one.rebuilt:
        by = w("on {day}, approved by {by}", day=day(one.rebuilt[0].day, w), by=one.rebuilt[1].approved_by)
    last, met = w("no run on record"), ""
    if state.runs:
        last, met = day(state.runs[-1][0].day, w), state.runs[-1][1].meeting or ""
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
    why = f"{w('Corrected')} {day(line.corrected.day, w)}{by}: {line.corrected.why}"
    return [*notes, why, *(figure(text, w) for text in (holds, *line.corrected.details))]
