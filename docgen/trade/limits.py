"""Readings against limits: derived readings, the decision, the figures to accept between, and the gauge's fitness."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_UP, Decimal
from enum import StrEnum
from fractions import Fraction

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity


class Verdict(StrEnum):
    """What a reading says of a part."""

    ACCEPT = "accept"
    UNDECIDED = "undecided"
    REJECT = "reject"


@dataclass(frozen=True)
class Reading:
    """A measured figure and the expanded uncertainty U (k = 2) of the gauge; None when that is not known.

    Errors: TradeError `negative-uncertainty`; QuantityError when the two do not measure the same thing.
    """

    value: Quantity
    uncertainty: Quantity | None = None

    def __post_init__(self) -> None:
        if self.uncertainty is not None and self.uncertainty.exactly(self.value.unit) < 0:
            raise TradeError("negative-uncertainty", f"an uncertainty of {self.uncertainty} is less than nothing")


def derive(kind: str, readings: Sequence[Reading]) -> Reading:
    """Return a reading derived from others, in the unit of the first: one of `DERIVATIONS`.

    difference : first less second; U is the root of the sum of squares (GUM, uncorrelated)
    mean       : U is the largest of the readings', since one gauge's error does not average out
    smallest, largest : U is the largest of the readings'
    spread     : largest less smallest; U is root 2 times the largest of the readings'
    When any U is unknown, so is the result's. A derived U is rounded up to two figures.
    Errors: TradeError `unknown-derivation`, `wrong-number-of-readings`; QuantityError for mixed dimensions.

    >>> from docgen.trade.quantity import parse_quantity
    >>> bore, piston = Reading(parse_quantity("54.11 mm")), Reading(parse_quantity("54.00 mm"))
    >>> print(derive("difference", [bore, piston]).value)
    0.11 mm
    """
    if kind not in DERIVATIONS:
        raise TradeError("unknown-derivation", f'"{kind}" is not a derivation', f"known: {', '.join(DERIVATIONS)}")
    if (kind == "difference" and len(readings) != 2) or not readings:
        needs = "two readings" if kind == "difference" else "at least one reading"
        raise TradeError("wrong-number-of-readings", f"{kind} needs {needs}; there are {len(readings)}")
    unit = readings[0].value.unit
    values = [each.value.to(unit).value for each in readings]
    spreads = [float(each.uncertainty.exactly(unit)) for each in readings if each.uncertainty is not None]
    known = len(spreads) == len(readings)
    value, combine = (
        DERIVATIONS[kind](values),
        math.hypot(*spreads) if kind == "difference" else max(spreads, default=0),
    )
    if kind == "spread":
        combine *= math.sqrt(2)
    return Reading(Quantity(value, unit), Quantity(_two_figures_up(combine), unit) if known else None)


DERIVATIONS: dict[str, Callable[[Sequence[Decimal]], Decimal]] = {
    "difference": lambda values: values[0] - values[1],
    "mean": lambda values: _mean(values),
    "smallest": min,
    "largest": max,
    "spread": lambda values: max(values) - min(values),
}


@dataclass(frozen=True)
class BoreForm:
    """The form of a bore from readings at several heights in two directions.

    taper   : the larger, over the two directions, of (largest less smallest over the heights)
    ovality : the largest, over the heights, of the difference between the two directions
    """

    largest: Reading
    smallest: Reading
    mean: Reading
    taper: Reading
    ovality: Reading


def bore_form(heights: Sequence[tuple[Reading, Reading]]) -> BoreForm:
    """Return largest, smallest and mean diameter, taper and ovality.

    heights : from the top down, each (across the pin, along the pin); two heights at least.
    Errors: TradeError `wrong-number-of-readings`; QuantityError for mixed dimensions.
    """
    if len(heights) < 2:
        raise TradeError("wrong-number-of-readings", f"taper needs two heights at least; there are {len(heights)}")
    everything = [reading for height in heights for reading in height]
    along = [derive("spread", [height[side] for height in heights]) for side in (0, 1)]
    across = [derive("spread", height) for height in heights]
    return BoreForm(
        largest=derive("largest", everything),
        smallest=derive("smallest", everything),
        mean=derive("mean", everything),
        taper=max(along, key=lambda each: each.value.value),
        ovality=max(across, key=lambda each: each.value.value),
    )


@dataclass(frozen=True)
class Judgement:
    """What a reading says against its limits.

    verdict    : accept, undecided or reject
    within_new : whether it lies in the range of a new part, None when that is not given
    says       : one sentence for the sheet
    """

    verdict: Verdict
    within_new: bool | None
    says: str


def judge(reading: Reading, allow: Band, new: Band | None = None) -> Judgement:
    """Judge a reading with a guard band as wide as the gauge's uncertainty U on both sides of each limit.

    accept    : inside the limit by U or more; less than 2.5 % of such parts are outside
    undecided : nearer than U to the limit, on either side: measure again, or with a better gauge
    reject    : outside the limit by more than U
    With U unknown the reading is taken as it stands, and the sentence says so. Source: ILAC-G8:09/2019.
    Errors: QuantityError when reading and limit do not measure the same thing.

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> fine = parse_quantity("0.015 mm")
    >>> judge(Reading(parse_quantity("20.040 mm"), fine), parse_band("<= 20.05 mm")).verdict.value
    'undecided'
    """
    within_new = new.contains(reading.value) if new else None
    value, guard = reading.value.exactly(allow.unit), _guard(reading.uncertainty, allow.unit)
    ends = [(Fraction(allow.low), -1)] if allow.low is not None else []
    ends += [(Fraction(allow.high), 1)] if allow.high is not None else []
    outside = max((value - end) * side for end, side in ends)
    if outside > guard:
        verdict, says = Verdict.REJECT, f"{reading.value} is outside {allow}"
    elif outside > -guard:
        verdict, says = Verdict.UNDECIDED, f"{reading.value} is too near {allow} for the gauge ({reading.uncertainty})"
    else:
        verdict, says = Verdict.ACCEPT, f"{reading.value} is within {allow}"
    if reading.uncertainty is None:
        says += "; uncertainty of the gauge not known"
    return Judgement(verdict, within_new, says)


def accept_between(allow: Band, uncertainty: Quantity | None = None, resolution: Quantity | None = None) -> Band:
    """Return the figures that a mechanic may accept between: the limits drawn in by the gauge's uncertainty.

    resolution : what the gauge shows; the figures are rounded inwards to it. Errors: TradeError `gauge-too-coarse`
    when nothing is left to accept; QuantityError for mixed dimensions.

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> print(accept_between(parse_band("<= 20.05 mm"), parse_quantity("0.015 mm")))
    <= 20.035 mm
    """
    guard = uncertainty.to(allow.unit).value if uncertainty is not None else Decimal(0)
    low = None if allow.low is None else allow.low + guard
    high = None if allow.high is None else allow.high - guard
    if resolution is not None:
        step = resolution.to(allow.unit).value
        if step <= 0:
            raise TradeError("gauge-too-coarse", f"a gauge cannot show steps of {resolution}")
        low = None if low is None else (low / step).to_integral_value(ROUND_CEILING) * step
        high = None if high is None else (high / step).to_integral_value(ROUND_FLOOR) * step
    if low is not None and high is not None and low > high:
        gauge = " and ".join(str(each) for each in (uncertainty, resolution) if each is not None)
        raise TradeError("gauge-too-coarse", f"a gauge of {gauge} cannot decide {allow}", "measure with a finer gauge")
    return Band(low, high, allow.unit)


@dataclass(frozen=True)
class GaugeFitness:
    """Whether a gauge can decide a tolerance.

    decides : whether any reading at all could be accepted
    share   : part of the tolerance that the guard bands take, 2 U / (high - low); None for a limit with one end
    says    : one sentence; empty when there is nothing to say
    """

    decides: bool
    share: float | None
    says: str


def gauge_fitness(allow: Band, uncertainty: Quantity) -> GaugeFitness:
    """Tell whether a gauge of uncertainty U can decide between two limits.

    More than half of the tolerance taken is said, as is a gauge that leaves nothing.
    Errors: QuantityError for mixed dimensions.
    """
    guard = _guard(uncertainty, allow.unit)
    if allow.low is None or allow.high is None:
        return GaugeFitness(True, None, "")
    width = Fraction(allow.high) - Fraction(allow.low)
    if width < 2 * guard:
        return GaugeFitness(False, None, f"a gauge of {uncertainty} cannot decide {allow}")
    share = float(2 * guard / width) if width else 0.0
    says = f"the gauge's {uncertainty} takes {share * 100:.0f} % of {allow}" if share > 0.5 else ""
    return GaugeFitness(True, share, says)


def _guard(uncertainty: Quantity | None, unit: str) -> Fraction:
    return Fraction(0) if uncertainty is None else uncertainty.exactly(unit)


def _mean(values: Sequence[Decimal]) -> Decimal:
    """The mean, kept one decimal finer than the finest reading."""
    finest = min(int(value.as_tuple().exponent) for value in values)
    return (sum(values, Decimal(0)) / len(values)).quantize(Decimal(1).scaleb(finest - 1), ROUND_HALF_EVEN)


def _two_figures_up(value: float) -> Decimal:
    if value == 0:
        return Decimal(0)
    exact = Decimal(f"{value:.12g}")
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() - 1), ROUND_UP)
