"""Readings against limits: derived readings, the decision, the figures to accept between, and the gauge's fitness."""

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
    spread     : largest less smallest; U is root 2 times the largest of the readings'
    When any U is unknown, so is the result's. A derived U is rounded up to two figures.
    Errors: TradeError `unknown-derivation`, `wrong-number-of-readings`; QuantityError for mixed dimensions.
    Source: JCGM 100 (GUM) for the difference; the largest U for mean and spread is our choice.

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
    "spread": lambda values: max(values) - min(values),
}


def decide(value: Quantity, allow: Band, accepted: bool | None = None) -> Verdict:
    """Return what a reading says of a part.

    accepted  : whether it is among the figures to accept that were drawn in from the limit; None where there are none
    accept    : among them; without any, within the limit
    undecided : within the limit, but not among them: measure again, or with a better gauge
    reject    : outside the limit
    Errors: QuantityError when value and limit do not measure the same thing.
    Source: ISO 14253-1, with what lies in the guard band left undecided.

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> limit, accept, value = parse_band("<= 20.05 mm"), parse_band("<= 20.035 mm"), parse_quantity("20.040 mm")
    >>> decide(value, limit, accept.contains(value)).value
    'undecided'
    """
    within = allow.contains(value)
    if within if accepted is None else accepted:
        return Verdict.ACCEPT
    return Verdict.UNDECIDED if within else Verdict.REJECT


def deciding(allow: Band, new: Band | None = None, wears: str | None = None, *, fit: bool = False) -> Band:
    """Return the limit that decides whether a part is still good: of one that wears, the end that it wears towards.

    wears : "up" or "down", which way wear moves the reading; None for what does not wear: both ends decide
    fit   : the reading tells of two parts together, such as a clearance: both ends decide
    The other end decides nothing where it is only that of new parts: no wear leads beyond it. Where it lies beyond
    new parts, it is a limit of its own, such as the least gap of a ring, and stays.
    Errors: QuantityError for mixed dimensions.
    Source: our reading of ISO 14253-1 (the specification limit at which conformity is decided).

    >>> from docgen.trade.quantity import parse_band
    >>> print(deciding(parse_band("1.85..2.00 mm"), parse_band("1.95..2.00 mm"), "down"))
    >= 1.85 mm
    """
    if wears is None or fit or new is None or allow.low is None or allow.high is None:
        return allow
    new = new.to(allow.unit)
    if wears == "up" and new.low == allow.low:
        return Band(None, allow.high, allow.unit)
    return Band(allow.low, None, allow.unit) if wears == "down" and new.high == allow.high else allow


def accept_between(
    allow: Band, uncertainty: Quantity | None = None, resolution: Quantity | None = None, new: Band | None = None,
    shows: Band | None = None,
) -> Band:  # fmt: skip
    """Return the figures that a mechanic may accept: the deciding limits drawn in by the gauge's uncertainty.

    resolution : what the gauge shows, to which the figures are rounded inwards; where it is not known, to one place
                 more than the limit is written with
    new        : the range of new parts, none of which is drawn out by this: a new part is never rejected
    shows      : what the gauge spans: a figure beyond it cannot be read, and so is never one to accept
    Errors: TradeError `gauge-too-coarse` when nothing is left to accept, and where all that is left of a limit above
    nothing lies below nothing (`<= 0.02 mm` and an uncertainty of 0.05 mm); `negative-uncertainty`; QuantityError for
    mixed dimensions.
    Source: ISO 14253-1, guard band as wide as the expanded uncertainty (as in ILAC-G8:09/2019, w = U).

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> print(accept_between(parse_band("<= 20.05 mm"), parse_quantity("0.015 mm")))
    <= 20.035 mm
    """
    guard = uncertainty.to(allow.unit).value if uncertainty is not None else Decimal(0)
    step = resolution.to(allow.unit).value if resolution is not None else _a_place_more(allow)
    if step <= 0:
        raise TradeError("gauge-too-coarse", f"a gauge cannot show steps of {resolution}")
    if guard < 0:
        raise TradeError("negative-uncertainty", f"an uncertainty of {uncertainty} is less than nothing")
    low, high = (_drawn_in(end, guard, step, side) for end, side in ((allow.low, 1), (allow.high, -1)))
    below_nothing = high is not None and allow.high is not None and high < 0 <= allow.high
    if below_nothing or (low is not None and high is not None and low > high):
        raise _too_coarse(allow, uncertainty, resolution)
    if new is not None:
        new = new.to(allow.unit)
        low = _as_far_as(new.low, low, allow.low, step, 1)
        high = _as_far_as(new.high, high, allow.high, step, -1)
    if shows is not None:
        low, high = _shown(low, high, shows.to(allow.unit), step)
        if low is not None and high is not None and low > high:
            raise _too_coarse(allow, uncertainty, resolution)
    shown = step if resolution is not None else None
    finest = min(int(each.as_tuple().exponent) for each in (low, high, shown) if each is not None)
    low, high = (None if end is None else end.quantize(Decimal(1).scaleb(min(finest, 0))) for end in (low, high))
    return Band(low, high, allow.unit)


def go_no_go(allow: Band, wires: Band, step: Quantity) -> tuple[Quantity, Quantity]:
    """Return the wire (or plug) that must pass and the one that must not, for a limit with two ends.

    wires : the smallest and the largest of the set
    step  : from one to the next
    The smallest wire within the limit must pass, the largest must not: what is measured then lies between the two. The
    wires' own tolerance is not taken into account.
    Errors: TradeError `gauge-too-coarse` where the set has no two wires within the limit; QuantityError.
    Source: arithmetic; to gauge between two wires is common practice, no source.

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> print(*go_no_go(parse_band("0.50..0.60 mm"), parse_band("0.40..1.00 mm"), parse_quantity("0.05 mm")))
    0.50 mm 0.60 mm
    """
    first, last, each = wires.to(allow.unit).low, wires.to(allow.unit).high, step.to(allow.unit).value
    low, high = allow.low, allow.high
    if first is not None and last is not None and low is not None and high is not None and each > 0:
        go = first + _rounded(max(low - first, Decimal(0)), each, ROUND_CEILING)
        stop = first + _rounded(min(high, last) - first, each, ROUND_FLOOR)
        if go < stop:
            return Quantity(go, allow.unit), Quantity(stop, allow.unit)
    raise TradeError("gauge-too-coarse", f"a gauge of {step} cannot decide {allow}", "measure with a finer gauge")


@dataclass(frozen=True)
class GaugeFitness:
    """Whether a gauge can decide a tolerance.

    decides : whether any reading at all could be accepted, and a new part be told from a worn one
    share   : part of the tolerance that the guard bands take; None for a limit with one end and no range of new parts
    says    : one sentence; empty when there is nothing to say
    """

    decides: bool
    share: float | None
    says: str


def gauge_fitness(allow: Band, uncertainty: Quantity, new: Band | None = None) -> GaugeFitness:
    """Tell whether a gauge of uncertainty U can decide between two limits, or between a new part and a worn one.

    More than half of the tolerance (:func:`tolerance`) taken by the guard bands is said, as is a gauge that leaves
    nothing. Errors: QuantityError for mixed dimensions. Source: arithmetic; that half is worth a word is our choice.

    >>> from docgen.trade.quantity import parse_band, parse_quantity
    >>> gauge_fitness(parse_band("0.50..0.60 mm"), parse_quantity("0.04 mm")).says
    "the gauge's 0.04 mm takes 80 % of 0.50..0.60 mm"
    """
    found = tolerance(allow, new)
    if found is None:
        return GaugeFitness(True, None, "")
    between, width, guards = found
    taken = guards * uncertainty.exactly(allow.unit)
    if width < taken:
        return GaugeFitness(False, None, f"a gauge of {uncertainty} cannot decide {between}")
    share = float(taken / width) if width else 0.0
    says = f"the gauge's {uncertainty} takes {share * 100:.0f} % of {between}" if share > 0.5 else ""
    return GaugeFitness(True, share, says)


def tolerance(allow: Band, new: Band | None = None) -> tuple[Band, Fraction, int] | None:
    """Return what a gauge has to tell apart, how wide that is, and how many guard bands lie in it.

    Two, between two limits; one, from the near end of new parts to the only limit; None where neither is known.
    Errors: QuantityError for mixed dimensions. Source: ISO 14253-1 for where guard bands lie.

    >>> from docgen.trade.quantity import parse_band
    >>> between, width, guards = tolerance(parse_band(">= 1.85 mm"), parse_band("1.95..2.00 mm"))
    >>> print(between, float(width), guards)
    1.85..1.95 mm 0.1 1
    """
    near = new.to(allow.unit) if new is not None else Band(allow.low, allow.high, allow.unit)
    low = near.high if allow.low is None else allow.low
    high = near.low if allow.high is None else allow.high
    guards = 1 if allow.low is None or allow.high is None else 2
    if low is None or high is None or low > high or (new is None and guards == 1):
        return None
    return Band(low, high, allow.unit), Fraction(high) - Fraction(low), guards


def _too_coarse(allow: Band, uncertainty: Quantity | None, resolution: Quantity | None) -> TradeError:
    gauge = " and ".join(str(each) for each in (uncertainty, resolution) if each is not None)
    return TradeError("gauge-too-coarse", f"a gauge of {gauge} cannot decide {allow}", "measure with a finer gauge")


def _shown(low: Decimal | None, high: Decimal | None, shows: Band, step: Decimal
           ) -> tuple[Decimal | None, Decimal | None]:  # fmt: skip
    """The figures as far as the gauge spans them; an end at nothing needs no reading."""
    if low and shows.low is not None and low < shows.low:
        low = _rounded(shows.low, step, ROUND_CEILING)
    if high and shows.high is not None and high > shows.high:
        high = _rounded(shows.high, step, ROUND_FLOOR)
    return low, high


def _drawn_in(limit: Decimal | None, guard: Decimal, step: Decimal, side: int) -> Decimal | None:
    """An end of the figures to accept; side 1 for the lower, -1 for the upper."""
    return None if limit is None else side * _rounded(side * limit + guard, step, ROUND_CEILING)


def _as_far_as(new: Decimal | None, end: Decimal | None, limit: Decimal | None, step: Decimal, side: int
               ) -> Decimal | None:  # fmt: skip
    """The end, let out to the next step that takes all new parts in, but not past the limit."""
    if new is None or end is None or limit is None or side * new >= side * end:
        return end
    return side * max(_rounded(side * new, step, ROUND_FLOOR), side * limit)


def _rounded(figure: Decimal, step: Decimal, rounding: str) -> Decimal:
    return (figure / step).to_integral_value(rounding) * step


def _a_place_more(band: Band) -> Decimal:
    places = min(int(end.as_tuple().exponent) for end in (band.low, band.high) if end is not None)
    return Decimal(1).scaleb(places - 1)


def _mean(values: Sequence[Decimal]) -> Decimal:
    """The mean, kept one decimal finer than the finest reading."""
    finest = min(int(value.as_tuple().exponent) for value in values)
    return (sum(values, Decimal(0)) / len(values)).quantize(Decimal(1).scaleb(finest - 1), ROUND_HALF_EVEN)


def _two_figures_up(value: float) -> Decimal:
    if value == 0:
        return Decimal(0)
    exact = Decimal(f"{value:.12g}")
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() - 1), ROUND_UP)
