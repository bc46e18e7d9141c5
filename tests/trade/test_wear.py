"""Wear: the line and its range against SciPy, and what few or contradictory readings can say."""

from __future__ import annotations

import math

import numpy as np
import pytest
import scipy.optimize
import scipy.stats
from hypothesis import assume, given
from hypothesis import strategies as st

from docgen.trade.errors import TradeError
from docgen.trade.tables import read_table
from docgen.trade.wear import Line, Point, fit_line, forecast
from tests.trade.published.wearing import COVERAGE, Coverage

READINGS = [Point(0, 0.050), Point(4, 0.057), Point(9, 0.066), Point(15, 0.082)]


def line_of(points: list[Point]) -> Line:
    return fit_line(points)


@given(
    st.lists(
        st.tuples(st.floats(0, 500), st.floats(-100, 100)),
        min_size=3,
        max_size=12,
        unique_by=lambda pair: round(pair[0]),
    )
)
def test_the_line_agrees_with_scipy(pairs: list[tuple[float, float]]) -> None:
    points = [Point(*pair) for pair in pairs]
    ours = line_of(points)
    theirs = scipy.stats.linregress([p.hours for p in points], [p.value for p in points])
    scale = max(1.0, max(abs(p.value) for p in points))
    assert ours.slope == pytest.approx(theirs.slope, abs=1e-9 * scale)
    assert ours.intercept == pytest.approx(theirs.intercept, abs=1e-8 * scale)
    assert ours.slope_error == pytest.approx(theirs.stderr, rel=1e-6, abs=1e-7 * scale)
    assert ours.intercept_error == pytest.approx(theirs.intercept_stderr, rel=1e-6, abs=1e-6 * scale)


def test_students_t_agrees_with_scipy_to_the_tables_last_figure() -> None:
    rows = read_table("student_t")
    assert len(rows) == 33
    for row in rows:
        assert float(row["t_95"]) == pytest.approx(scipy.stats.t.ppf(0.95, int(row["df"])), abs=5.1e-4)


U = 0.002


def test_the_range_is_where_the_limit_leaves_the_interval_of_the_next_reading() -> None:
    """Independent way: root-find the hours at which SciPy's own prediction interval, the gauge in it, touches it."""
    found = forecast(READINGS, 0.10, uncertainty=U)
    x, y = np.array([p.hours for p in READINGS]), np.array([p.value for p in READINGS])
    fit = scipy.stats.linregress(x, y)
    residual = math.sqrt(float(np.sum((y - fit.intercept - fit.slope * x) ** 2)) / (len(x) - 2))
    t = float(scipy.stats.t.ppf(0.95, len(x) - 2))

    def edge(hours: float, side: float) -> float:
        spread = math.sqrt(1 + 1 / len(x) + (hours - x.mean()) ** 2 / float(np.sum((x - x.mean()) ** 2)))
        return float(fit.intercept + fit.slope * hours + side * math.hypot(t * residual, U) * spread - 0.10)

    low = scipy.optimize.brentq(edge, 15, 200, args=(1,))
    high = scipy.optimize.brentq(edge, 15, 200, args=(-1,))
    assert found.kind == "line"
    assert found.left == pytest.approx((0.10 - fit.intercept) / fit.slope - 15, abs=1e-9)
    assert found.left_low == pytest.approx(low - 15, abs=2e-2)
    assert found.left_high == pytest.approx(high - 15, abs=2e-2)


@pytest.mark.parametrize("case", COVERAGE, ids=str)
def test_nine_times_in_ten_is_kept(case: Coverage) -> None:
    assert case.promised >= 0.88
    assert case.simulated() >= case.promised


def test_readings_on_a_line_by_chance_do_not_make_a_forecast_exact() -> None:
    exact = [Point(0, 0.05), Point(5, 0.06), Point(10, 0.07)]
    found = forecast(exact, 0.15, uncertainty=0.004, unit="mm")
    assert found.says.startswith("0.08 mm to the limit; about 40 h left, nine times in ten 29.9 to 58 h")
    silent = forecast(exact, 0.15, unit="mm")
    assert (silent.kind, silent.left, silent.left_low, silent.left_high) == ("line", None, None, None)
    assert silent.says == "0.08 mm to the limit; a rate but no forecast while the gauge's uncertainty is not known"
    assert silent.rate == pytest.approx(0.002)


def test_what_a_sheet_prints() -> None:
    found = forecast(READINGS, 0.10, uncertainty=U, unit="mm")
    assert found.says == "0.018 mm to the limit; about 9.11 h left, nine times in ten 4.74 to 15.6 h"
    assert found.line is not None
    assert found.rate == found.line.slope
    soon = forecast([Point(0, 0.050), Point(4, 0.054), Point(8, 0.0581)], 0.10, uncertainty=0.0005, unit="mm")
    assert soon.says.endswith("; more than the 8 h seen so far, so measure again sooner")


def test_a_part_that_wears_smaller() -> None:
    found = forecast([Point(p.hours, 1 - p.value) for p in READINGS], 0.90, rising=False, uncertainty=U)
    up = forecast(READINGS, 0.10, uncertainty=U)
    assert found.left == pytest.approx(up.left)
    assert found.left_low == pytest.approx(up.left_low)
    assert found.line is not None
    assert found.line.slope == pytest.approx(-fit_line(READINGS).slope)
    assert found.line.intercept == pytest.approx(1 - fit_line(READINGS).intercept)


@pytest.mark.parametrize(
    ("points", "uncertainty", "kind", "says"),
    [
        ([(3, 0.05)], None, "one", "0.05 mm to the limit; one reading shows no rate of wear"),
        (
            [(3, 0.05), (8, 0.06)],
            None,
            "two",
            "0.04 mm to the limit; two readings give a rate but no forecast while the gauge's uncertainty is not known",
        ),
        (
            [(3, 0.05), (8, 0.06)],
            0.002,
            "two",
            "0.04 mm to the limit; about 20 h left, nine times in ten 14.8 to 29.3 h; "
            "more than the 5 h seen so far, so measure again sooner",
        ),
        (
            [(3, 0.05), (8, 0.06)],
            0.02,
            "two",
            "0.04 mm to the limit; no wear can be told from the gauge's uncertainty",
        ),
        (
            [(3, 0.05), (3, 0.06)],
            0.02,
            "two",
            "0.04 mm to the limit; two readings at the same hours show no rate of wear",
        ),
        (
            [(3, 0.08), (8, 0.05)],
            0.01,
            "inconsistent",
            "0.05 mm to the limit; a reading went back by more than the gauge explains",
        ),
        (
            [(0, 0.05), (5, 0.09), (9, 0.06), (12, 0.07)],
            0.01,
            "inconsistent",
            "0.03 mm to the limit; a reading went back by more than the gauge explains",
        ),
        (
            [(0, 0.05), (5, 0.07), (9, 0.06)],
            0.01,
            "no-trend",
            "0.04 mm to the limit; no wear can be told from the scatter of 3 readings",
        ),
        (
            [(0, 0.07), (5, 0.06), (9, 0.05)],
            None,
            "no-trend",
            "0.05 mm to the limit; no wear can be told from the scatter of 3 readings",
        ),
        (
            [(4, 0.05), (4, 0.06), (4, 0.05)],
            None,
            "no-trend",
            "0.05 mm to the limit; all readings are of the same hours",
        ),
        ([(0, 0.05), (5, 0.11)], None, "past-limit", "0.01 mm past the limit"),
    ],
)
def test_few_or_contradictory_readings_say_only_what_they_know(
    points: list[tuple[float, float]], uncertainty: float | None, kind: str, says: str
) -> None:
    found = forecast([Point(*pair) for pair in points], 0.10, uncertainty=uncertainty, unit="mm")
    assert (found.kind, found.says) == (kind, says)
    if kind not in ("two", "line"):
        assert (found.left, found.left_high) == (None, None)


def test_no_readings_or_hours_that_go_back() -> None:
    with pytest.raises(TradeError, match="there is no reading yet"):
        forecast([], 1)
    with pytest.raises(TradeError, match="a later reading has fewer hours than one before it"):
        forecast([Point(5, 1), Point(4, 1)], 2)
    with pytest.raises(TradeError, match="a line with its range needs three readings; there are 2"):
        fit_line(READINGS[:2])
    with pytest.raises(TradeError, match="reading is nan"):
        fit_line([Point(0, math.nan), Point(1, 1), Point(2, 1)])


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("at", range(4))
def test_what_is_no_number_is_refused_however_few_the_readings(count: int, at: int) -> None:
    points = [Point(float(k), math.nan if k == at else 0.1 * k) for k in range(count)]
    if at < count:
        with pytest.raises(TradeError, match="reading is nan"):
            forecast(points, 2, uncertainty=0.01)
    with pytest.raises(TradeError, match="limit is nan"):
        forecast(READINGS, math.nan)
    with pytest.raises(TradeError, match="uncertainty of the gauge is -0.01"):
        forecast(READINGS, 2, uncertainty=-0.01)
    with pytest.raises(TradeError, match="hours on the part is nan"):
        forecast([Point(math.nan, 1)], 2)


@given(
    rate=st.floats(0.001, 0.01),
    noise=st.lists(st.floats(-0.001, 0.001), min_size=4, max_size=8),
    limit=st.floats(0.2, 0.5),
    further=st.floats(0.01, 0.2),
)
def test_the_range_holds_the_forecast_and_a_farther_limit_is_met_later(
    rate: float, noise: list[float], limit: float, further: float
) -> None:
    points = [Point(5.0 * k, 0.05 + rate * 5 * k + each) for k, each in enumerate(noise)]
    one, two = (forecast(points, end, uncertainty=0.001) for end in (limit, limit + further))
    assume(one.kind == "line")
    assert one.left is not None
    assert one.left_low is not None
    assert one.left_high is not None
    assert two.left is not None
    assert one.left_low <= one.left <= one.left_high
    assert two.left > one.left


@given(scale=st.floats(0.01, 1000), hours=st.floats(0.1, 60))
def test_hours_left_do_not_depend_on_the_unit_of_the_readings(scale: float, hours: float) -> None:
    base = forecast(READINGS, 0.10, uncertainty=U)
    worn = [Point(hours * p.hours, scale * p.value) for p in READINGS]
    scaled = forecast(worn, scale * 0.10, uncertainty=scale * U)
    assert base.left is not None
    assert base.left_low is not None
    assert scaled.left == pytest.approx(hours * base.left, rel=1e-6)
    assert scaled.left_low == pytest.approx(hours * base.left_low, rel=1e-6)
