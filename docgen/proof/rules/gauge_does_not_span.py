"""A limit lies outside what its gauge can measure."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Typed
from docgen.proof.finding import Finding
from docgen.trade.quantity import Quantity, QuantityError


def on_model(typed: Typed) -> Iterator[Finding]:
    """One finding at the gauge's name."""
    gauges = typed.club.value.gauges
    for name, limit in typed.model.value.limits.items():
        band = limit.allow or limit.new
        span = gauges[limit.gauge].range if limit.gauge in gauges else None
        if band is None or span is None:
            continue
        ends = [Quantity(end, band.unit) for end in (band.low, band.high) if end is not None]
        try:
            outside = [end for end in ends if not span.contains(end)]
        except QuantityError:
            outside = ends
        if outside and not (len(ends) == 2 and ends[0].value == 0 and outside == ends[:1]):
            yield typed.finding(
                ("limits", name, "gauge"), f"the range of {limit.gauge} is {span}; {name} asks for {band}",
                "name a gauge that spans it, or check figure and unit",
            )  # fmt: skip
