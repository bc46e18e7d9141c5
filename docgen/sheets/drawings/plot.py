"""A small plot of readings over engine hours, with the limit, the range of new parts, and renewals."""

from __future__ import annotations

from dataclasses import dataclass

from docgen.sheets.drawings.canvas import INK, OUTLINE, THIN, TINT, Canvas

WIDTH, HEIGHT, LOW = 62.0, 16.0, 11.5
"""Size of the drawing, mm; of one reading alone it is lower."""
LEFT, RIGHT, TOP, FOOT = 2.5, 13.0, 1.6, 3.9
"""Room round the field of the plot, mm: for the limits' figures at the right, for hours below."""
TEXT = 2.5
"""Size of its figures, mm (7 points)."""


@dataclass(frozen=True)
class Dot:
    """A reading: engine hours, the figure that decides, and those of other places (none for a single one)."""

    hours: float
    value: float
    others: tuple[float, ...] = ()


@dataclass(frozen=True)
class Series:
    """What is drawn. Ends that are open are None; ``low`` and ``high`` are the limit's, with ``labels`` as printed.

    trend : two points of a straight line, hours and figure
    """

    dots: tuple[Dot, ...]
    low: float | None
    high: float | None
    new: tuple[float | None, float | None] = (None, None)
    renewed: tuple[float, ...] = ()
    trend: tuple[tuple[float, float], tuple[float, float]] | None = None
    labels: tuple[str, str] = ("", "")


def plot(series: Series, title: str, decimal: str = ".") -> str:
    """The plot as SVG; `title` is read out in its place, `decimal` is the sign in figures. Errors: ValueError without a
    reading."""
    if not series.dots:
        raise ValueError("there is nothing to plot")
    height = HEIGHT if len(series.dots) > 1 else LOW
    canvas, field = Canvas(WIDTH, height, title), _Field(series, height)
    _new_range(canvas, field, series)
    for hours in series.renewed:
        x = field.x(hours)
        canvas.line((x, TOP), (x, field.bottom), THIN, dash="0.3 0.9")
    for end, label in zip((series.low, series.high), series.labels, strict=True):
        if end is not None:
            y = field.y(end)
            canvas.line((LEFT, y), (field.right, y), OUTLINE)
            canvas.text((field.right + 1.0, y), label, TEXT, anchor="start", bold=False)
    if series.trend is not None:
        (a, at_a), (b, at_b) = series.trend
        canvas.line((field.x(a), field.y(at_a)), (field.x(b), field.y(at_b)), THIN, dash="1.6 0.8")
    for run in _runs(series):
        if len(run) > 1:
            canvas.polyline([(field.x(dot.hours), field.y(dot.value)) for dot in run], THIN)
    for dot in series.dots:
        for value in dot.others:
            canvas.circle((field.x(dot.hours), field.y(value)), 0.55, 0.25)
        canvas.circle((field.x(dot.hours), field.y(dot.value)), 0.85, 0, INK)
    _hours(canvas, field, series, decimal)
    return canvas.svg()


class _Field:
    """From hours and figures to places on the drawing."""

    def __init__(self, series: Series, height: float) -> None:
        hours = [*(dot.hours for dot in series.dots), *series.renewed, *(x for x, _ in series.trend or ())]
        values = [v for dot in series.dots for v in (dot.value, *dot.others)]
        values += [end for end in (series.low, series.high, *series.new) if end is not None]
        self._from, self._hours = min(hours), max(hours) - min(hours)
        if self._hours < 0.5:  # readings at the same hours stand in the middle
            self._from, self._hours = self._from - 0.5, 1.0
        spread = max(values) - min(values) or abs(values[0]) or 1.0
        self._least, self._values = min(values) - 0.06 * spread, 1.12 * spread
        self.right, self.bottom = WIDTH - RIGHT, height - FOOT

    def x(self, hours: float) -> float:
        inner = self.right - LEFT - 4.0
        return LEFT + 2.0 + inner * (hours - self._from) / self._hours

    def y(self, value: float) -> float:
        return self.bottom - (self.bottom - TOP) * (value - self._least) / self._values


def _new_range(canvas: Canvas, field: _Field, series: Series) -> None:
    low, high = series.new
    if low is None and high is None:
        return
    top = field.y(high) if high is not None else TOP
    foot = field.y(low) if low is not None else field.bottom
    canvas.rectangle(LEFT, top, field.right - LEFT, max(foot - top, 0.4), 0, TINT)


def _runs(series: Series) -> list[list[Dot]]:
    """The dots between renewals: a new part's readings do not continue the old one's."""
    runs: list[list[Dot]] = [[]]
    cuts = list(series.renewed)
    for dot in series.dots:
        while cuts and dot.hours > cuts[0]:
            cuts.pop(0)
            runs.append([])
        runs[-1].append(dot)
    return runs


def _hours(canvas: Canvas, field: _Field, series: Series, decimal: str) -> None:
    """The hours of the last and the first reading, and of those between where there is room."""
    last = series.dots[-1]
    shown: list[float] = []
    for dot in (last, series.dots[0], *series.dots[-2:0:-1]):
        x = field.x(dot.hours)
        if all(abs(x - field.x(one)) > 11.0 for one in shown):
            shown.append(dot.hours)
            canvas.line((x, field.bottom), (x, field.bottom + 0.9), THIN)
            text = f"{dot.hours:.1f}".replace(".", decimal) + (" h" if dot is last else "")
            canvas.text((x, field.bottom + FOOT - 1.5), text, TEXT, bold=False)


def bar(share: float, title: str, width: float = 26.0, height: float = 3.4) -> str:
    """How much of a life is used up, as a bar; past its end the whole bar is hatched."""
    canvas = Canvas(width, height, title)
    inner = width - 0.6
    if share > 1:
        right, foot = width - 0.3, height - 0.3
        canvas.hatched(((0.3, 0.3), (right, 0.3), (right, foot), (0.3, foot)), 0.9, weight=OUTLINE)
    else:
        canvas.rectangle(0.3, 0.3, inner, height - 0.6, THIN)
        canvas.rectangle(0.3, 0.3, inner * max(share, 0.0), height - 0.6, 0, INK)
    return canvas.svg()
