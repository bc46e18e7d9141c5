"""A gauge that cannot decide its tolerance: its steps, or its uncertainty, leave nothing to accept."""

from fractions import Fraction

from docgen.club.schema.club import Gauge
from docgen.club.schema.model import Limit
from docgen.club.yamldoc import Loc
from docgen.job.readings import deciding
from docgen.proof.case import Findings, Typed
from docgen.proof.rules import gauge_does_not_span, limit_unlike_others, limits_contradict, size_unlike_trade
from docgen.trade.errors import TradeError
from docgen.trade.limits import go_no_go, tolerance
from docgen.trade.quantity import Band, Quantity, QuantityError

OF_THE_FIGURE = {
    "gauge-does-not-span": gauge_does_not_span,
    "limit-unlike-others": limit_unlike_others,
    "limits-contradict": limits_contradict,
    "size-unlike-trade": size_unlike_trade,
}
"""The rules that say of a limit that its figure is out of the usual."""


def on_model(typed: Typed) -> Findings:
    """One finding at the gauge's name. Guard band w = U: ISO 14253-1 (memory), ILAC-G8:09/2019 (copy). At least two
    steps: our choice. Where another rule doubts the limit itself, that comes first, and the gauge is left out."""
    gauges, doubted = typed.club.value.gauges, _doubted(typed)
    for group, key in (("limits", "allow"), ("settings", "start")):
        for name, item in getattr(typed.model.value, group).items():
            band = getattr(item, key) or getattr(item, "new", None)
            if item.gauge not in gauges or band is None or (group, name) in doubted:
                continue
            wears = isinstance(item, Limit) and item.wears
            decides = (deciding(item) or band) if wears else band
            why = _too_coarse(gauges[item.gauge], decides, item.new if wears else None)
            if why:
                yield typed.finding((group, name, "gauge"),
                                    f"{name}, {band}, cannot be decided with {item.gauge}: {why}",
                                    "name a finer gauge, or check the figures of the tolerance and of the gauge")


def _doubted(typed: Typed) -> frozenset[Loc]:
    """The limits whose figure another rule doubts; one that is silenced with a reason is true."""
    limits, silent = typed.model.value.limits, typed.model.value.silences
    found = ((rule, one.loc) for rule, module in OF_THE_FIGURE.items() for one in module.on_model(typed))
    return frozenset(
        loc[:2]
        for rule, loc in found
        if loc[0] == "limits" and loc[2:] != ("gauge",) and rule not in {*silent, *limits[str(loc[1])].silences}
    )


def _too_coarse(gauge: Gauge, band: Band, new: Band | None) -> str:
    try:
        # At most: from nothing on, and only the upper end is drawn in
        between, width, guards = tolerance(band, new) or (band, Fraction(band.high or 0), 1)
        if not width:
            return ""
        if gauge.wires and gauge.range and gauge.reads and None not in (band.low, band.high):
            go_no_go(band, gauge.range, gauge.reads)
            return ""
        if gauge.reads and width < 2 * gauge.reads.exactly(band.unit):
            return f"its steps are {gauge.reads}"
        if gauge.uncertainty and width <= guards * _share(gauge.uncertainty, band):
            one = f"what a part may wear, {between}" if new else str(between)
            off = "both ends" if guards == 2 else one
            return f"its uncertainty of {gauge.uncertainty}, taken off {off}, leaves nothing to accept"
    except QuantityError:
        return f"it does not measure in {band.unit}"
    except TradeError:
        return f"no two of its wires, {gauge.reads} from one to the next, lie within it"
    return ""


def _share(uncertainty: Quantity, band: Band) -> Fraction:
    """The uncertainty in the band's unit; one in per cent is of the reading, at the upper end."""
    if uncertainty.unit == "%" and band.unit != "%":
        return Fraction(uncertainty.value) / 100 * abs(Fraction(band.high or 0))
    return uncertainty.exactly(band.unit)
