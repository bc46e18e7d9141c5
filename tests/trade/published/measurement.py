"""Measurement: guard bands, and a straight line."""

from __future__ import annotations

from docgen.trade import limits, wear
from docgen.trade.quantity import parse_band, parse_quantity
from tests.trade.published import Published

TITLE = "Measurement"

# NIST StRD, data set Norris (public domain), y and x in turn; from memory, proved by the certified figures.
NORRIS = """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6
778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0
228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0
778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5"""


def norris() -> list[wear.Point]:
    """Return the 36 points: the reading y over x."""
    figures = [float(text) for text in NORRIS.split()]
    return [wear.Point(x, y) for y, x in zip(figures[0::2], figures[1::2], strict=True)]


def rows() -> list[Published]:
    guide, strd = "ILAC-G8:09/2019, w = U, example", "NIST StRD Norris"
    fine, limit = parse_quantity("0.015 mm"), parse_band("<= 20.05 mm")
    doubtful = limits.judge(limits.Reading(parse_quantity("20.040 mm"), fine), limit)
    top = limits.accept_between(limit, fine).high
    assert top is not None
    line = wear.fit_line(norris())
    return [
        Published("accept up to, limit 20.05 mm, U 0.015 mm", float(top), "20.035", "mm", guide, "calc"),
        Published("verdict on 20.040 mm", doubtful.verdict.value, "undecided", "", guide, "calc"),
        Published("points", line.n, "36", "", strd, "copy"),
        *(
            Published(name, ours, shown, "", strd, "copy", within=1e-12 * abs(ours), because="arithmetic in doubles")
            for name, ours, shown in (
                ("slope", line.slope, "1.00211681802045"),
                ("standard error of slope", line.slope_error, "0.000429796848199937"),
                ("intercept", line.intercept, "-0.262323073774029"),
                ("standard error of intercept", line.intercept_error, "0.232818234301152"),
                ("R squared", line.r_squared, "0.999993745883712"),
                ("residual standard deviation", line.residual_sd, "0.884796396144"),
            )
        ),
    ]
