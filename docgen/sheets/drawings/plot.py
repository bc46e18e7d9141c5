"""A small plot of readings over engine hours, with the limit, the range of new parts, and renewals; and a bar of what
is used up over what is allowed, with the rounds to come marked on it.
"""

from collections.abc import Sequence
from itertools import groupby
from typing import NamedTuple

from markupsafe import Markup

from docgen.club.words import Words
from docgen.job import wording
from docgen.job.state import Reading
from docgen.plan.standing import Measured
from docgen.sheets.drawings.canvas import INK, OUTLINE, PAPER, THIN, TINT, Canvas, Point
from docgen.sheets.figures import figure
from docgen.trade.quantity import Band, QuantityError

WIDTH, HEIGHT, LOW = 62.0, 16.0, 11.5
"""Size of the drawing, mm; of one reading alone it is lower."""
LEFT, RIGHT, TOP, FOOT = 2.5, 13.0, 1.6, 3.9
"""Room round the field of the plot, mm: for the limits' figures at the right, for hours below."""
TEXT = 2.5
"""Size of its figures, mm (7 points)."""
BEYOND = 1.25
"""The right end of a bar, in parts of what is allowed: what is over runs past the limit's line up to here."""


Ends = tuple[float | None, float | None]


class Dot(NamedTuple):
    """A reading: engine hours, the figure that decides, and those of other places (none for a single one)."""

    hours: float
    value: float
    others: tuple[float, ...] = ()


class Series:
    """What is drawn, and where. Ends that are open are None; ``low`` and ``high`` are the limit's.

    renewed : at which hours the part was renewed
    trend   : two points of a straight line, hours and figure
    labels  : the limit's ends as printed

    Errors: ValueError without a reading.
    """

    def __init__(
        self, dots: Sequence[Dot], low: float | None, high: float | None, new: Ends = (None, None),
        renewed: Sequence[float] = (), trend: tuple[Point, Point] | None = None, labels: tuple[str, str] = ("", ""),
    ) -> None:  # fmt: skip
        if not dots:
            raise ValueError("there is nothing to plot")
        self.dots, self.new, self.renewed, self.trend = dots, new, renewed, trend
        self.limits = ((low, labels[0]), (high, labels[1]))
        hours = [*(dot.hours for dot in dots), *renewed, *(x for x, _ in trend or ())]
        values = [v for dot in dots for v in (dot.value, *dot.others)]
        values += [end for end in (low, high, *new) if end is not None]
        self._from, self._hours = min(hours), max(hours) - min(hours)
        if self._hours < 0.5:  # readings at the same hours stand in the middle
            self._from, self._hours = self._from - 0.5, 1.0
        spread = max(values) - min(values) or abs(values[0]) or 1.0
        self._least, self._values = min(values) - 0.06 * spread, 1.12 * spread
        self.height = HEIGHT if len(dots) > 1 else LOW
        self.right, self.bottom = WIDTH - RIGHT, self.height - FOOT

    def x(self, hours: float) -> float:
        """The place of hours on the drawing, mm."""
        inner = self.right - LEFT - 4.0
        return LEFT + 2.0 + inner * (hours - self._from) / self._hours

    def y(self, value: float) -> float:
        """The place of a figure on the drawing, mm."""
        return self.bottom - (self.bottom - TOP) * (value - self._least) / self._values

    def at(self, hours: float, value: float) -> Point:
        """The place of both."""
        return (self.x(hours), self.y(value))


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
    renewed = (float(each.new),) if each.new and float(each.new) >= dots[0].hours else ()
    trend = _trend(each, dots, high if each.limit.wears == "up" else low)
    labels = (_label(each.limit.allow, "low", w), _label(each.limit.allow, "high", w))
    series, of = Series(dots, low, high, new, renewed, trend, labels), wording.unit(unit, w)
    told = [w.number(f"{each.name} {w('at')} {dot.hours:.1f} h: {dot.value:g} {of}") for dot in dots]
    return plot(series, "; ".join((*told, figure(band, w) if band else "")), w.decimal_sign)


def _dot(reading: Reading, unit: str, down: bool) -> Dot:
    worst, *others = sorted((float(value.exactly(unit)) for value in reading.values), reverse=not down)
    return Dot(float(reading.at.hours), worst, tuple(others))


def _ends(band: Band | None, unit: str) -> Ends:
    there = band and band.to(unit)
    low, high = (there.low, there.high) if there else (None, None)
    return None if low is None else float(low), None if high is None else float(high)


def _label(band: Band | None, end: str, w: Words) -> str:
    value = getattr(band, end) if band else None
    return w.number(value).replace("-", "−") if value is not None else ""


def _trend(each: Measured, dots: tuple[Dot, ...], limit: float | None) -> tuple[Point, Point] | None:
    """The fitted line, from the first reading since the part was new to where it meets the limit, or a while on."""
    found = each.forecast
    if found is None or found.line is None or found.left is None or limit is None:
        return None
    since, last = float(each.new), dots[-1].hours
    first = next(dot.hours for dot in dots if dot.hours > since or not since)
    until = last + min(found.left, 0.6 * max(last - first, 1.0))
    start, end = ((hours, found.line.intercept + found.line.slope * (hours - since)) for hours in (first, until))
    return start, end


def plot(series: Series, title: str, decimal: str = ".") -> Markup:
    """The plot as SVG; `title` is read out in its place, `decimal` is the sign in figures."""
    canvas = Canvas(WIDTH, series.height, title)
    low, high = series.new
    if low is not None or high is not None:
        top = series.y(high) if high is not None else TOP
        foot = series.y(low) if low is not None else series.bottom
        canvas.rectangle(LEFT, top, series.right - LEFT, max(foot - top, 0.4), 0, TINT)
    for hours in series.renewed:
        x = series.x(hours)
        canvas.line((x, TOP), (x, series.bottom), THIN, dash="0.3 0.9")
    for end, label in series.limits:
        if end is not None:
            y = series.y(end)
            canvas.line((LEFT, y), (series.right, y), OUTLINE)
            canvas.text((series.right + 1.0, y), label, TEXT, anchor="start", bold=False)
    if series.trend is not None:
        canvas.line(series.at(*series.trend[0]), series.at(*series.trend[1]), THIN, dash="1.6 0.8")
    # A new part's readings do not continue the old one's.
    for _, run in groupby(series.dots, lambda dot: sum(dot.hours > cut for cut in series.renewed)):
        if len(points := [series.at(dot.hours, dot.value) for dot in run]) > 1:
            canvas.polyline(points, THIN)
    for dot in series.dots:
        for value in dot.others:
            canvas.circle(series.at(dot.hours, value), 0.55, 0.25)
        canvas.circle(series.at(dot.hours, dot.value), 0.85, 0, INK)
    _hours(canvas, series, decimal)
    return canvas.svg()


def _hours(canvas: Canvas, series: Series, decimal: str) -> None:
    """The hours of the last and the first reading, and of those between where there is room."""
    last = series.dots[-1]
    shown: list[float] = []
    for dot in (last, series.dots[0], *series.dots[-2:0:-1]):
        x = series.x(dot.hours)
        if all(abs(x - series.x(one)) > 11.0 for one in shown):
            shown.append(dot.hours)
            canvas.line((x, series.bottom), (x, series.bottom + 0.9), THIN)
            text = f"{dot.hours:.1f}".replace(".", decimal) + (" h" if dot is last else "")
            canvas.text((x, series.bottom + FOOT - 1.5), text, TEXT, bold=False)


def used_bar(share: float | None, rounds: Sequence[float], width: float, height: float, title: str) -> Markup:
    """The bar as SVG; ``title`` is read out in its place.

    share  : used over allowed; None where it is not known, which leaves the bar empty but for a dashed edge
    rounds : the same, when each of the coming rounds is over; those within the limit are ticks in the white part
    The limit is a heavy line over the whole height, at 1 of 1.25 of the width.
    """
    canvas = Canvas(width, height, title)
    limit = width / BEYOND
    top, high = height * 0.18, height * 0.64
    canvas.rectangle(0.15, top, limit - 0.15, high, THIN, PAPER, dash="1.2 0.8" if share is None else "")
    if share is not None:
        end = min(max(share, 0.0), BEYOND) * limit
        canvas.rectangle(0, top, end, high, 0, INK)
        for at in rounds:
            if max(share, 0.0) + 0.02 < at < 0.985:
                canvas.line((at * limit, top + 0.2), (at * limit, top + high - 0.2), THIN)
        if share > BEYOND:  # the end is cut off with a white slit: there is more than is drawn
            canvas.polygon(
                [(width - 2.0, top), (width - 1.2, top), (width - 2.6, top + high), (width - 3.4, top + high)], 0, PAPER
            )
    canvas.line((limit, 0.3), (limit, height - 0.3), OUTLINE * 1.5)
    return canvas.svg()
