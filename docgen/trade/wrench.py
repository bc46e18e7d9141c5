"""Torque wrenches: what one can be set to, and which one to take."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity
from docgen.trade.units import find_unit

TESTED_FROM = Decimal("0.2")  # ISO 6789 tests a wrench at 20, 60 and 100 % of its top (copy)


@dataclass(frozen=True)
class Wrench:
    """A setting torque wrench of the register: lowest and highest mark and the step between marks, in its own unit.

    Errors: TradeError `bad-wrench` when the figures make no wrench; QuantityError for a unit that is not of torque.
    """

    name: str
    low: Decimal
    high: Decimal
    step: Decimal
    unit: str = "N.m"

    def __post_init__(self) -> None:
        find_unit(self.unit, "torque")
        if not (0 <= self.low < self.high and 0 < self.step <= self.high - self.low):
            raise TradeError("bad-wrench", f"{self.name}: {self.low} to {self.high} by {self.step} makes no wrench")

    @property
    def accuracy_percent(self) -> int:
        """Largest deviation that ISO 6789 permits a setting wrench: 6 % where its top is 10 N.m or less, else 4 %."""
        return 6 if Quantity(self.high, self.unit).exactly("N.m") <= 10 else 4


@dataclass(frozen=True)
class Setting:
    """What to set a wrench to.

    setting : in the wrench's unit, a mark of the wrench
    applied : the torque that then reaches the screw, in the unit of the torque asked for, to two decimals
    notes   : what the mechanic ought to know (bottom of the range, accuracy wider than the tolerance)
    """

    wrench: Wrench
    setting: Quantity
    applied: Quantity
    notes: tuple[str, ...]


def setting(wrench: Wrench, torque: Band) -> Setting:
    """Return the mark nearest to the wanted torque.

    The wanted torque is the nominal figure, else the middle of the band.
    Errors: TradeError `open-torque` for a band with one end, `beyond-wrench` when the wrench does not reach,
    `no-mark-in-band` when its marks miss the band; QuantityError for what is no torque.
    Source: ISO 6789 (copy) for the tested range and the permitted deviation.

    >>> from docgen.trade.quantity import parse_band
    >>> small = Wrench("small", Decimal(2), Decimal(25), Decimal("0.5"))
    >>> print(setting(small, parse_band("10.2 N.m +/- 5 %")).setting)
    10.0 N.m
    """
    if torque.low is None or torque.high is None:
        raise TradeError("open-torque", f'"{torque}" has no two ends to aim between', "write a figure with a tolerance")
    aim = torque.nominal if torque.nominal is not None else (torque.low + torque.high) / 2
    wanted = Quantity(aim, torque.unit).exactly(wrench.unit)
    marks = round((wanted - Fraction(wrench.low)) / Fraction(wrench.step))
    mark = wrench.low + marks * wrench.step
    if not wrench.low <= mark <= wrench.high:
        span = f"{wrench.low} to {wrench.high} {wrench.unit}"
        raise TradeError("beyond-wrench", f"{wrench.name} ({span}) does not reach {_text(wanted, wrench.unit)}")
    set_to = Quantity(mark, wrench.unit)
    reaches = set_to.exactly(torque.unit)
    if not torque.low <= reaches <= torque.high:
        raise TradeError(
            "no-mark-in-band", f"{wrench.name} can be set to {set_to} but to nothing nearer: outside {torque.limits}"
        )
    notes = []
    if mark < TESTED_FROM * wrench.high:
        notes.append(f"{set_to} is in the lowest fifth of {wrench.name}, where it is not tested")
    off = Fraction(wrench.accuracy_percent, 100)
    if not (torque.low <= reaches * (1 - off) and reaches * (1 + off) <= torque.high):
        notes.append(f"the wrench's own {wrench.accuracy_percent} % can leave {torque.limits}")
    applied = Quantity(Decimal(round(reaches * 100)) / 100, torque.unit)
    return Setting(wrench, set_to, applied, tuple(notes))


def choose(wrenches: Sequence[Wrench], torque: Band) -> Setting:
    """Return the best setting that any wrench of the register gives.

    First those in their tested range, then the nearest to the wanted torque, then the wrench with the lowest top.
    Errors: TradeError `no-wrench-reaches`, with each wrench's reason; `no-wrenches` for an empty register;
    `open-torque` for a band with one end. Source: our choice of what counts first.

    >>> from docgen.trade.quantity import parse_band
    >>> register = [Wrench("large", Decimal(20), Decimal(200), Decimal(1)), Wrench("small", Decimal(2), Decimal(25),
    ...             Decimal("0.5"))]
    >>> choose(register, parse_band("22 N.m +/- 10 %")).wrench.name
    'small'
    """
    if not wrenches:
        raise TradeError("no-wrenches", "there is no torque wrench in the register")
    found: list[Setting] = []
    reasons: list[str] = []
    for wrench in wrenches:
        try:
            found.append(setting(wrench, torque))
        except TradeError as error:
            if error.name not in ("beyond-wrench", "no-mark-in-band"):
                raise
            reasons.append(error.message)
    if not found:
        raise TradeError("no-wrench-reaches", f"no wrench of the register gives {torque}: {'; '.join(reasons)}")
    return min(found, key=lambda each: _merit(each, torque))


def _merit(found: Setting, torque: Band) -> tuple[bool, Fraction, Fraction]:
    low, high = torque.low or Decimal(0), torque.high or Decimal(0)
    aim = Fraction(torque.nominal if torque.nominal is not None else (low + high) / 2)
    untested = found.setting.value < TESTED_FROM * found.wrench.high
    top = Quantity(found.wrench.high, found.wrench.unit).exactly("N.m")
    return (untested, abs(Fraction(found.applied.value) - aim), top)


def rounded(torque: Band, unit: str, step: Decimal) -> Band:
    """Return a torque in another unit, to be printed beside it: ends rounded inwards to a step, nominal to the nearest.

    One figure without a tolerance is rounded to the nearest step.
    step : above 0, in `unit`
    Errors: TradeError `step-too-coarse` when nothing of the band is left, `out-of-range` for a step that is none;
    QuantityError for a unit that does not fit. Source: arithmetic of exact fractions.

    >>> from docgen.trade.quantity import parse_band
    >>> print(rounded(parse_band("34 N.m +/- 10 %"), "lbf.ft", Decimal(1)))
    23..27 lbf.ft
    """
    if step <= 0:
        raise TradeError("out-of-range", f"a step of {step} {unit} cannot be rounded to")

    def steps(value: Decimal | None) -> Fraction | None:
        return None if value is None else Quantity(value, torque.unit).exactly(unit) / Fraction(step)

    if torque.low is not None and torque.low == torque.high:  # one figure alone has no ends to keep within
        only = round(steps(torque.low) or Fraction(0)) * step
        return Band(only, only, unit, only, f"{only} {unit}")
    low, high, nominal = steps(torque.low), steps(torque.high), steps(torque.nominal)
    new_low = None if low is None else math.ceil(low) * step
    new_high = None if high is None else math.floor(high) * step
    if new_low is not None and new_high is not None and new_low > new_high:
        raise TradeError("step-too-coarse", f"no multiple of {step} {unit} lies in {torque}")
    return Band(new_low, new_high, unit, None if nominal is None else round(nominal) * step)


def _text(value: Fraction, unit: str) -> str:
    return f"{float(value):.4g} {unit}"
