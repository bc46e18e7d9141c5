"""The figures to accept, rounded to what a gauge shows."""

from __future__ import annotations

from docgen.trade.limits import accept_between
from docgen.trade.quantity import parse_band, parse_quantity
from tests.trade.published import Published

TITLE = "Figures to accept, rounded to what the gauge shows"
SAYS = """The limit drawn in by U (ISO 14253-1), then rounded inwards to the gauge's steps, by hand: a figure between
two steps cannot be read. What the gauge does not span is not among them.
"""

# limit, U, step, what the gauge spans (- where it spans all), accepted from and to
ROUNDED = """
<=74.30 0.006 0.005 35..100 - 74.290
>=1.85 0.004 0.001 0..25 1.854 -
0.15..0.60 0.02 0.05 0.05..1.00 0.20 0.55
0.10..1.20 0.02 0.05 0.05..1.00 0.15 1.00
8..18 0.5 0.5 0..300 8.5 17.5
<=0.05 0.01 0.01 0..10 - 0.04
"""


def rows() -> list[Published]:
    found = []
    for line in ROUNDED.split("\n")[1:-1]:
        limit, u, step, spans, low, high = line.split()
        gauge = [parse_quantity(f"{text} mm") for text in (u, step)]
        accept = accept_between(parse_band(f"{limit} mm"), *gauge, shows=parse_band(f"{spans} mm"))
        name = f"{limit} mm, U {u} mm, steps of {step} mm"
        for what, ours, shown in (("from", accept.low, low), ("up to", accept.high, high)):
            if shown != "-":
                assert ours is not None
                found.append(Published(f"{name}: {what}", float(ours), shown, "mm", "ISO 14253-1, by hand", "calc"))
    return found
