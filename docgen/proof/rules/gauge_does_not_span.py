"""A limit lies outside what its gauge can measure."""

from decimal import Decimal

from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band, Quantity, QuantityError

SLIPS = (Decimal("0.1"), Decimal(10), Decimal("0.01"), Decimal(100), Decimal("0.001"), Decimal(1000))
"""What a point or a unit set wrong makes of a figure."""


def on_model(typed: Typed) -> Findings:
    """One finding at the gauge's name; at the figure, where a point or a unit set wrong explains it."""
    gauges = typed.club.value.gauges
    for name, limit in typed.model.value.limits.items():
        span = gauges[limit.gauge].range if limit.gauge in gauges else None
        given = {key: band for key in ("allow", "new") if (band := getattr(limit, key)) is not None}
        beyond = [key for key, band in given.items() if span and not _spans(span, band)]
        if not beyond or span is None:
            continue
        key, band = beyond[0], given[beyond[0]]
        message = f"the range of {limit.gauge} is {span}; {name} asks for {band}"
        slip = next((times for times in SLIPS if _spans(span, _scaled(band, times))), None)
        if slip is None or len(beyond) == 2:
            hint = "name a gauge that spans it, or check figure and unit"
            yield typed.finding(("limits", name, "gauge"), message, hint)
        else:
            yield typed.finding(("limits", name, key), message, f"is a point or the unit wrong? {_scaled(band, slip)}"
                                " would be within; else name a gauge that spans it")  # fmt: skip


def _scaled(band: Band, times: Decimal) -> Band:
    """Without an exponent: 7.40, and not 7.4E+1."""
    ends = (band.low, band.high, band.nominal)
    low, high, aim = (None if end is None else Decimal(f"{end * times:f}") for end in ends)
    return Band(low, high, band.unit, aim)


def _spans(span: Band, band: Band) -> bool:
    """Whether both ends can be read; an end at nothing needs no reading."""
    ends = [Quantity(end, band.unit) for end in (band.low, band.high) if end]
    try:
        return all(span.contains(end) for end in ends)
    except QuantityError:
        return False
