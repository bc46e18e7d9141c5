"""Wear over hours: the straight line through readings, the hours left to a limit, and what few readings can say."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from docgen.trade.errors import TradeError, check_range
from docgen.trade.tables import read_table


@dataclass(frozen=True)
class Point:
    """One reading: hours on the part when it was taken, and the figure."""

    hours: float
    value: float


@dataclass(frozen=True)
class Line:
    """A straight line fitted by least squares, value = intercept + slope x hours, with its standard errors."""

    slope: float
    intercept: float
    slope_error: float
    intercept_error: float
    residual_sd: float
    r_squared: float
    n: int
    mean_hours: float
    sum_squares: float


def fit_line(points: Sequence[Point]) -> Line:
    r"""Fit a straight line to three or more readings by least squares.

    .. math:: b = \frac{\sum (x-\bar x)(y-\bar y)}{\sum (x-\bar x)^2}, \quad a = \bar y - b\bar x, \quad
              s = \sqrt{\frac{\sum (y - a - b x)^2}{n - 2}}

    Errors: TradeError `too-few-readings`, `same-hours` when all were taken at the same hours, `out-of-range` for a
    figure that is no number. Source: ordinary least squares; checked against NIST StRD Norris.

    >>> line = fit_line([Point(0, 0.05), Point(5, 0.06), Point(10, 0.07)])
    >>> round(line.slope, 4), round(line.intercept, 4)
    (0.002, 0.05)
    """
    n = len(points)
    if n < 3:
        raise TradeError("too-few-readings", f"a line with its range needs three readings; there are {n}")
    for point in points:
        check_range("hours on the part", point.hours, 0, 1e6, "h")
        check_range("reading", point.value, -1e9, 1e9)
    mean_x = math.fsum(p.hours for p in points) / n
    mean_y = math.fsum(p.value for p in points) / n
    sxx = math.fsum((p.hours - mean_x) ** 2 for p in points)
    if sxx == 0:
        raise TradeError("same-hours", "all readings were taken at the same hours: they show no wear")
    slope = math.fsum((p.hours - mean_x) * (p.value - mean_y) for p in points) / sxx
    intercept = mean_y - slope * mean_x
    rss = math.fsum((p.value - intercept - slope * p.hours) ** 2 for p in points)
    total = math.fsum((p.value - mean_y) ** 2 for p in points)
    sd = math.sqrt(rss / (n - 2))
    return Line(
        slope,
        intercept,
        slope_error=sd / math.sqrt(sxx),
        intercept_error=sd * math.sqrt(1 / n + mean_x**2 / sxx),
        residual_sd=sd,
        r_squared=1 - rss / total if total else 1.0,
        n=n,
        mean_hours=mean_x,
        sum_squares=sxx,
    )


@dataclass(frozen=True)
class Forecast:
    """What the readings say of the hours left.

    kind     : `one`, `two`, `line`; `no-trend` when no wear can be told from scatter; `inconsistent` when the part
               seems to have grown back; `past-limit`
    margin   : from the last reading to the limit, in the readings' unit; negative when past it
    rate     : wear per hour towards the limit; None when it cannot be known
    left     : hours from the last reading to the limit, by the rate; None when it cannot be known
    left_low, left_high : between which it lies nine times in ten; left_high None when there is no knowing
    says     : one sentence for the sheet
    line     : the fitted line, for a plot
    """

    kind: str
    margin: float
    rate: float | None
    left: float | None
    left_low: float | None
    left_high: float | None
    says: str
    line: Line | None = None


def forecast(
    points: Sequence[Point], limit: float, *, rising: bool = True, uncertainty: float | None = None, unit: str = ""
) -> Forecast:
    """Forecast when a wearing part meets its limit, from its readings since it was new.

    rising      : True where wear makes the figure larger (a clearance), False where smaller (a piston)
    uncertainty : expanded uncertainty U of the gauge, in the readings' unit; None when not known
    unit        : of readings and limit, for the sentence only
    One reading gives the margin only; two give a rate, three or more a straight line. Hours left with their range are
    said only where U is known: readings that happen to lie on a line show no scatter, and the gauge's is there all the
    same. The range is where the next reading will meet the limit (:func:`_meets`).
    Readings that go back by more than the gauge explains are reported, not averaged away.
    limit       : -1e9 to 1e9, in the readings' unit
    Errors: TradeError `too-few-readings` for none, `hours-backwards`, `out-of-range` for what is no number.
    Sources: Fieller 1954, Draper and Smith, inverse prediction (both from memory); the gauge's share is our choice.

    >>> found = forecast([Point(0, 0.05), Point(5, 0.06), Point(10, 0.07)], 0.10, uncertainty=0.004)
    >>> found.left, round(found.left_low, 1), round(found.left_high, 1)
    (15.0, 10.1, 23.3)
    """
    if not points:
        raise TradeError("too-few-readings", "there is no reading yet")
    for point in points:
        check_range("hours on the part", point.hours, 0, 1e6, "h")
        check_range("reading", point.value, -1e9, 1e9)
    check_range("limit", limit, -1e9, 1e9)
    check_range("uncertainty of the gauge", uncertainty or 0, 0, 1e9)
    if any(b.hours < a.hours for a, b in pairwise(points)):
        raise TradeError("hours-backwards", "a later reading has fewer hours than one before it")
    sign = 1.0 if rising else -1.0
    worn = [Point(point.hours, sign * point.value) for point in points]
    margin = sign * limit - worn[-1].value
    said = f"{abs(margin):.4g}{' ' if unit else ''}{unit} {'to' if margin >= 0 else 'past'} the limit"
    if margin < 0:
        return _only("past-limit", margin, said)
    if len(worn) == 1:
        return _only("one", margin, f"{said}; one reading shows no rate of wear")
    if uncertainty is not None and _goes_back(worn, uncertainty):
        return _only("inconsistent", margin, f"{said}; a reading went back by more than the gauge explains")
    if len(worn) == 2:
        return _from_two(worn, margin, uncertainty, said)
    return _from_line(worn, margin, sign, uncertainty, said)


def _only(kind: str, margin: float, says: str) -> Forecast:
    return Forecast(kind, margin, None, None, None, None, says)


def _goes_back(worn: Sequence[Point], uncertainty: float) -> bool:
    highest = -math.inf
    for point in worn:
        if point.value < highest - math.sqrt(2) * uncertainty:
            return True
        highest = max(highest, point.value)
    return False


def _from_two(worn: Sequence[Point], margin: float, uncertainty: float | None, said: str) -> Forecast:
    hours, change = worn[1].hours - worn[0].hours, worn[1].value - worn[0].value
    if hours == 0:
        return _only("two", margin, f"{said}; two readings at the same hours show no rate of wear")
    rate = change / hours
    if uncertainty is None:
        says = f"{said}; two readings give a rate but no forecast while the gauge's uncertainty is not known"
        return Forecast("two", margin, rate, None, None, None, says)
    slow, fast = (change - math.sqrt(2) * uncertainty) / hours, (change + math.sqrt(2) * uncertainty) / hours
    if slow <= 0:
        low = max(margin - uncertainty, 0) / fast if fast > 0 else None
        return Forecast(
            "two", margin, rate, None, low, None, f"{said}; no wear can be told from the gauge's uncertainty"
        )
    low, high = max(margin - uncertainty, 0) / fast, (margin + uncertainty) / slow
    return Forecast("two", margin, rate, margin / rate, low, high, _left(said, margin / rate, low, high, hours))


def _from_line(
    worn: Sequence[Point], margin: float, sign: float, uncertainty: float | None, said: str
) -> Forecast:
    try:
        line = fit_line(worn)
    except TradeError as error:
        if error.name != "same-hours":
            raise
        return _only("no-trend", margin, f"{said}; all readings are of the same hours")
    shown = replace(line, slope=sign * line.slope, intercept=sign * line.intercept)
    limit, last = worn[-1].value + margin, worn[-1].hours
    if line.slope <= 0:
        says = f"{said}; no wear can be told from the scatter of {line.n} readings"
        return Forecast("no-trend", margin, line.slope, None, None, None, says, shown)
    if uncertainty is None:
        says = f"{said}; a rate but no forecast while the gauge's uncertainty is not known"
        return Forecast("line", margin, line.slope, None, None, None, says, shown)
    between = _meets(line, limit, uncertainty)
    if between is None:
        says = f"{said}; no wear can be told from the scatter of {line.n} readings"
        return Forecast("no-trend", margin, line.slope, None, None, None, says, shown)
    meets = (limit - line.intercept) / line.slope
    low, high = min(between[0], meets), max(between[1], meets)
    left, left_low, left_high = (max(hours - last, 0.0) for hours in (meets, low, high))
    seen = last - worn[0].hours
    return Forecast(
        "line", margin, line.slope, left, left_low, left_high, _left(said, left, left_low, left_high, seen), shown
    )


def _meets(line: Line, limit: float, uncertainty: float) -> tuple[float, float] | None:
    r"""The hours between which the next reading meets the limit, nine times in ten; None where wear cannot be told.

    The hours x at which the limit lies within the prediction interval of one more reading (Fieller's way round):

    .. math:: (L - a - b x)^2 \le (t^2 s^2 + U^2)\left(1 + \tfrac{1}{n} + \frac{(x - \bar x)^2}{S_{xx}}\right)

    t : Student's, 90 % two-sided, n - 2; s : scatter of the readings about the line; U : the gauge's, k = 2
    The gauge's share stands beside the scatter and is not drawn from it: three readings may lie on a line by chance.
    Simulated, it holds the true hours at least 88 times in 100, where the wear seen is at least four times U and the
    readings scatter up to twice as far as the gauge explains; and 95 times, where they scatter as the gauge does and
    the wear seen is at least U (docs/reference-checks.md). Sources: Fieller 1954, Draper and Smith, inverse prediction
    (both from memory); to add U in square is our choice.
    """
    spread = (_student_t(line.n - 2) * line.residual_sd) ** 2 + uncertainty**2
    a = line.slope**2 - spread / line.sum_squares
    if a <= 0:
        return None
    off = limit - (line.intercept + line.slope * line.mean_hours)
    root = math.sqrt(spread * (a * (1 + 1 / line.n) + off**2 / line.sum_squares))
    low, high = (line.mean_hours + (line.slope * off + side * root) / a for side in (-1, 1))
    return low, high


def _left(said: str, left: float, low: float, high: float, seen: float) -> str:
    beyond = f"; more than the {seen:.3g} h seen so far, so measure again sooner" if left > seen else ""
    return f"{said}; about {left:.3g} h left, nine times in ten {low:.3g} to {high:.3g} h{beyond}"


def _student_t(freedom: int) -> float:
    """The 95 % point of Student's t; between rows of the table the one for fewer degrees of freedom (wider)."""
    rows = [row for row in read_table("student_t") if int(row["df"]) <= freedom]
    return float(rows[-1]["t_95"])
