"""A gauge that cannot decide its tolerance: its steps, or its uncertainty on both sides, leave nothing to accept."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from docgen.club.schema.club import Gauge
from docgen.proof.case import Typed
from docgen.proof.finding import Finding
from docgen.trade.quantity import Band, Quantity, QuantityError


def on_model(typed: Typed) -> Iterator[Finding]:
    """One finding at the gauge's name. Guard band w = U: ILAC-G8:09/2019 (copy). At least two steps: our choice."""
    gauges = typed.club.value.gauges
    for group, key in (("limits", "allow"), ("settings", "start")):
        for name, item in getattr(typed.model.value, group).items():
            band = getattr(item, key) or getattr(item, "new", None)
            if item.gauge not in gauges or band is None or band.high is None:
                continue
            why = _too_coarse(gauges[item.gauge], band)
            if why:
                yield typed.finding(
                    (group, name, "gauge"), f"{name}, {band}, cannot be decided with {item.gauge}: {why}",
                    "name a finer gauge, or check the figures of the tolerance and of the gauge",
                )  # fmt: skip


def _too_coarse(gauge: Gauge, band: Band) -> str:
    width = Fraction(band.high or 0) - Fraction(band.low or 0)  # what is at most so much begins at nothing
    try:
        if gauge.reads and width < 2 * gauge.reads.exactly(band.unit):
            return f"its steps are {gauge.reads}"
        if gauge.uncertainty and width <= 2 * _share(gauge.uncertainty, band):
            return f"its uncertainty of {gauge.uncertainty}, taken off both ends, leaves nothing to accept"
    except QuantityError:
        return f"it does not measure in {band.unit}"
    return ""


def _share(uncertainty: Quantity, band: Band) -> Fraction:
    """The uncertainty in the band's unit; one in per cent is of the reading, at the upper end."""
    if uncertainty.unit == "%" and band.unit != "%":
        return Fraction(uncertainty.value) / 100 * abs(Fraction(band.high or 0))
    return uncertainty.exactly(band.unit)
