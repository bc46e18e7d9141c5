"""From the readings of one limit to its small plot."""

from __future__ import annotations

from docgen.club.words import Words
from docgen.job import wording
from docgen.job.state import Reading
from docgen.plan.standing import Measured
from docgen.sheets.drawings.plot import Dot, Series, plot
from docgen.sheets.figures import figure
from docgen.trade.quantity import Band, QuantityError


def reading_plot(each: Measured, w: Words) -> str:
    """The readings over engine hours with limit, range of new parts, renewals and trend; empty where units differ."""
    band = each.limit.allow or each.limit.new
    unit = band.unit if band else each.readings[-1].values[0].unit
    try:
        dots = tuple(_dot(reading, unit, each.limit.wears == "down") for reading in each.readings)
        new = _ends(each.limit.new, unit)
    except QuantityError:
        return ""
    low, high = _ends(each.limit.allow, unit)
    series = Series(
        dots,
        low,
        high,
        new,
        (float(each.new),) if each.new and float(each.new) >= dots[0].hours else (),
        _trend(each, dots, high if each.limit.wears == "up" else low),
        (_label(each.limit.allow, "low", w), _label(each.limit.allow, "high", w)),
    )
    of = wording.unit(unit, w)
    told = [w.number(f"{each.name} {w('at')} {dot.hours:.1f} h: {dot.value:g} {of}") for dot in dots]
    return plot(series, "; ".join((*told, figure(band, w) if band else "")), w.decimal_sign)


def _dot(reading: Reading, unit: str, down: bool) -> Dot:
    worst, *others = sorted((float(value.exactly(unit)) for value in reading.values), reverse=not down)
    return Dot(float(reading.at.hours), worst, tuple(others))


def _ends(band: Band | None, unit: str) -> tuple[float | None, float | None]:
    there = band and band.to(unit)
    low, high = (there.low, there.high) if there else (None, None)
    return None if low is None else float(low), None if high is None else float(high)


def _label(band: Band | None, end: str, w: Words) -> str:
    value = getattr(band, end) if band else None
    return w.number(value).replace("-", "−") if value is not None else ""


def _trend(
    each: Measured, dots: tuple[Dot, ...], limit: float | None
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The fitted line, from the first reading since the part was new to where it meets the limit, or a while on."""
    found = each.forecast
    if found is None or found.line is None or found.left is None or limit is None:
        return None
    since, last = float(each.new), dots[-1].hours
    first = next(dot.hours for dot in dots if dot.hours > since or not since)
    until = last + min(found.left, 0.6 * max(last - first, 1.0))
    start, end = ((hours, found.line.intercept + found.line.slope * (hours - since)) for hours in (first, until))
    return start, end
