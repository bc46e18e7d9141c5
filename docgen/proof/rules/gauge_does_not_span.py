"""A limit lies outside what its gauge can measure."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.proof.case import Typed
from docgen.proof.finding import Finding
from docgen.trade.quantity import Band, Quantity, QuantityError


def on_model(typed: Typed) -> Iterator[Finding]:
    """One finding at the gauge's name."""
    gauges = typed.club.value.gauges
    for name, limit in typed.model.value.limits.items():
        span = gauges[limit.gauge].range if limit.gauge in gauges else None
        beyond = [band for band in (limit.allow, limit.new) if band and span and not _spans(span, band)]
        if beyond:
            yield typed.finding(
                ("limits", name, "gauge"), f"the range of {limit.gauge} is {span}; {name} asks for {beyond[0]}",
                "name a gauge that spans it, or check figure and unit",
            )  # fmt: skip


def _spans(span: Band, band: Band) -> bool:
    """Whether both ends can be read; an end at nothing needs no reading."""
    ends = [Quantity(end, band.unit) for end in (band.low, band.high) if end]
    try:
        return all(span.contains(end) for end in ends)
    except QuantityError:
        return False
