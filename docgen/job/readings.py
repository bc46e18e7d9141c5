"""Readings as the sheet needs them: what to accept on this gauge, and what the log says of wear."""

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction

from docgen.club.schema.model import Derived, Limit
from docgen.club.words import Words, message
from docgen.job import wording
from docgen.job.components import carrier_of
from docgen.job.figure import Wires
from docgen.job.figures import Figures
from docgen.job.state import Reading
from docgen.trade import limits as trade
from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity, QuantityError
from docgen.trade.wear import Forecast, Point, forecast


def uncertainty(figures: Figures, name: str) -> Quantity | None:
    """Expanded uncertainty of a reading: its gauge's, or that of the readings it is derived from; None if unknown."""
    limit = figures.limit(name)
    if limit.derived is None:
        gauge = figures.club.gauges.get(limit.gauge or "")
        return _in_figures(gauge.uncertainty, allowance(limit)) if gauge and gauge.uncertainty else None
    parts = [uncertainty(figures, source) for source in sources_of(limit.derived)]
    unit = next((p.unit for p in parts if p is not None), None)
    if unit is None or any(p is None for p in parts):
        return None
    kind = "difference" if limit.derived.difference else "mean" if limit.derived.average else "spread"
    nought = Quantity(Decimal(0), unit)
    return trade.derive(kind, [trade.Reading(nought, part) for part in parts]).uncertainty


def _in_figures(known: Quantity, band: Band | None) -> Quantity | None:
    """An uncertainty stated in per cent, as a figure at the farthest end of the band; any other as it stands."""
    if known.unit != "%":
        return known
    ends = [abs(end) for end in (band.low, band.high) if end is not None] if band else []
    return Quantity(max(ends) * known.value / 100, band.unit) if band and ends else None


def accepted(figures: Figures, name: str) -> tuple[Band | Wires | None, str]:
    """What to accept on this gauge, and what the trade says when it decides badly or not at all, in English.

    Figures, drawn in from the limit that decides; for a go/no-go gauge the wire that passes and the one that does not.
    Nothing where neither the gauge's uncertainty nor its wires are known.
    """
    limit = figures.limit(name)
    known, gauge = uncertainty(figures, name), figures.club.gauges.get(limit.gauge or "")
    decides = deciding(limit)
    if limit.allow is None or decides is None:
        return None, ""
    try:
        if gauge and gauge.wires and gauge.range and gauge.reads and None not in (decides.low, decides.high):
            go, stop = trade.go_no_go(decides, gauge.range, gauge.reads)
            return Wires(go=go, stop=stop), ""
        if known is None:
            return None, ""
        shows = gauge.range if gauge and limit.derived is None else None
        between = trade.accept_between(decides, known, _shown_steps(figures, limit), limit.new, shows)
        return between, trade.gauge_fitness(decides, known, limit.new if limit.wears else None).says
    except TradeError as error:
        return None, ": ".join(text for text in (error.message, error.hint) if text)


def _shown_steps(figures: Figures, limit: Limit) -> Quantity | None:
    """What the reading can be told to: the steps of its gauge, or the coarsest of those that it is derived from."""
    if limit.derived is None:
        gauge = figures.club.gauges.get(limit.gauge or "")
        return gauge.reads if gauge else None
    steps = [_shown_steps(figures, figures.limit(source)) for source in sources_of(limit.derived)]
    known = [step for step in steps if step is not None]
    return max(known) if known else None


def sources_of(derived: Derived) -> tuple[str, ...]:
    """The limits that a derived reading is taken from."""
    return derived.difference or derived.average or derived.spread or ()


def wear(figures: Figures, name: str, readings: Iterable[Reading]) -> Forecast | None:
    """What the readings of a limit, since its part was new, say of the hours left; None where nothing can be said.

    Of several positions the one nearest to the limit counts. A reading from the very service that renewed the part is
    left out: the record does not say whether it was taken before or after.
    """
    limit = figures.limit(name)
    rising = limit.wears == "up"
    if limit.allow is None or limit.wears is None:
        return None
    end = limit.allow.high if rising else limit.allow.low
    if end is None:
        return None
    since = renewed_at(figures, limit)
    points = [
        _point(r, limit.allow.unit, rising, since) for r in readings if r.values and (not since or r.at.hours > since)
    ]
    known = uncertainty(figures, name)
    if not points:
        return None
    try:
        guard = float(known.exactly(limit.allow.unit)) if known else None
        return forecast(points, float(end), rising=rising, uncertainty=guard, unit=wording.unit(limit.allow.unit))
    except (TradeError, QuantityError):
        return None


def in_short(found: Forecast, unit: str, w: Words) -> str:
    """The forecast in a few words for a narrow column."""
    side = message("{margin} to the limit" if found.margin >= 0 else "{margin} past the limit")
    margin = w(side, margin=f"{w.number(f'{abs(found.margin):.3g}')} {unit}")
    if found.left is not None and found.left_low is not None and found.left_high is not None:
        left, low, high = (w.number(f"{h:.2g}") for h in (found.left, found.left_low, found.left_high))
        return w("{margin}: about {left} h left ({low} to {high})", margin=margin, left=left, low=low, high=high)
    if found.kind == "inconsistent":
        return w("{margin}; a reading went back: measure twice", margin=margin)
    return w("{margin}; no trend yet", margin=margin) if found.kind in ("no-trend", "two") else margin


def renewed_at(figures: Figures, limit: Limit) -> Fraction:
    """Engine hours at which the measured part was last renewed or came here on its component; 0 where it never did."""
    state = figures.state
    moments = [state.renewed[item].hours for item in limit.of if item in state.renewed]
    carriers = {carrier_of(figures.model, item, state.fitted) for item in limit.of}
    return max(moments + [state.fitted[c].hours for c in carriers if c is not None], default=Fraction(0))


def _point(reading: Reading, unit: str, rising: bool, since: Fraction) -> Point:
    values = [float(value.exactly(unit)) for value in reading.values]
    return Point(float(reading.at.hours - since), max(values) if rising else min(values))


def allowance(limit: Limit) -> Band | None:
    """What a reading may be: the service limit, else the range of new parts."""
    return limit.allow or limit.new


def deciding(limit: Limit) -> Band | None:
    """The limit that decides: of what wears, the end that wear leads to (:func:`docgen.trade.limits.deciding`)."""
    fit = limit.derived is not None and limit.derived.difference is not None
    return trade.deciding(limit.allow, limit.new, limit.wears, fit=fit) if limit.allow else limit.new
