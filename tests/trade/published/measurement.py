"""Measurement: guard bands, and a straight line."""

from __future__ import annotations

from docgen.trade import limits, wear
from docgen.trade.quantity import parse_band, parse_quantity
from tests.trade.published import Published

TITLE = "Measurement"
SAYS = """The figures to accept are the limit drawn in by the gauge's expanded uncertainty (ISO 14253-1). It used to be
done at both ends, which rejected new parts: a washer new at 1.998 mm, a drum new at 74.005 mm. Now it is done at the
limit that decides: of what wears, the one that it wears towards; the other end only where it lies beyond new parts, or
where the reading tells of two parts together. No guard band reaches into the range of new parts, and figures are
rounded to what the gauge shows, away from the limit. A set of wires has no figures: one passes, one does not.
"""

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
    accept = limits.accept_between(limit, fine)
    value = parse_quantity("20.040 mm")
    doubtful = limits.decide(value, limit, accept.contains(value))
    norm = "ISO 14253-1, rule for proving conformity, 5.2 (number from memory)"
    both = limits.accept_between(parse_band("10.00..10.10 mm"), parse_quantity("0.02 mm"))
    washer = limits.deciding(parse_band("1.85..2.00 mm"), parse_band("1.95..2.00 mm"), "down")
    drum = limits.deciding(parse_band("74.00..74.30 mm"), parse_band("74.00..74.10 mm"), "up")
    thick = limits.accept_between(washer, parse_quantity("0.004 mm"), parse_quantity("0.001 mm"))
    wide = limits.accept_between(drum, parse_quantity("0.006 mm"))
    tip = limits.accept_between(parse_band("<= 0.20 mm"), parse_quantity("0.02 mm"), parse_quantity("0.05 mm"))
    reach = limits.accept_between(
        parse_band("18.5..19.0 mm"), parse_quantity("0.03 mm"), parse_quantity("0.01 mm"), parse_band("18.8..19.0 mm")
    )
    new_drum, new_washer = parse_quantity("74.005 mm"), parse_quantity("1.998 mm")
    drum_new = limits.decide(new_drum, parse_band("74.00..74.30 mm"), wide.contains(new_drum))
    washer_new = limits.decide(new_washer, parse_band("1.85..2.00 mm"), thick.contains(new_washer))
    ours = "our reading of ISO 14253-1: the limit that decides is guarded"
    assert accept.high is not None
    assert (washer.high, drum.low) == (None, None)
    line = wear.fit_line(norris())
    return [
        Published("accept up to, limit 20.05 mm, U 0.015 mm", float(accept.high), "20.035", "mm", guide, "calc"),
        Published("verdict on 20.040 mm", doubtful.value, "undecided", "", guide, "calc"),
        Published("accept from, 10.00 to 10.10 mm, U 0.02 mm", float(both.low or 0), "10.02", "mm", norm, "copy"),
        Published("accept up to, 10.00 to 10.10 mm, U 0.02 mm", float(both.high or 0), "10.08", "mm", norm, "copy"),
        Published("wears down to 1.85 mm, U 0.004 mm: from", float(thick.low or 0), "1.854", "mm", norm, "memory"),
        Published("wears up to 74.30 mm, U 0.006 mm: up to", float(wide.high or 0), "74.294", "mm", norm, "memory"),
        Published("drum new at 74.005 mm, wears up to 74.30 mm", drum_new.value, "accept", "", ours, "calc"),
        Published("washer new at 1.998 mm, wears down to 1.85 mm", washer_new.value, "accept", "", ours, "calc"),
        Published("reach 18.5 to 19.0 mm, U 0.03 mm: from", float(reach.low or 0), "18.53", "mm", ours, "calc"),
        Published("the same, new from 18.8 to 19.0 mm: up to", float(reach.high or 0), "19.00", "mm", ours, "calc"),
        Published("gap 0.20 mm, U 0.02 mm, feelers in 0.05 mm", float(tip.high or 0), "0.15", "mm", ours, "calc"),
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
