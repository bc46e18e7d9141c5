"""What is chosen by a measured clearance: a shim, or all gaskets together, from the sizes that there are."""

from decimal import ROUND_HALF_EVEN, Decimal
from typing import Literal

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity

Thicker = Literal["less", "more"]
"""Whether a thicker one makes the clearance less, as a shim on a valve does, or more, as a gasket below a cylinder."""


def aim(wanted: Band) -> Quantity:
    """Return the clearance to aim at, in the unit of `wanted`: the nominal, else the middle, else its one end.

    Errors: none. Source: our choice; where wear leads is not taken into account.

    >>> from docgen.trade.quantity import parse_band
    >>> print(aim(parse_band("0.10..0.16 mm")), "|", aim(parse_band("<= 0.05 mm")))
    0.13 mm | 0.05 mm
    """
    ends = [end for end in (wanted.low, wanted.high) if end is not None]
    return Quantity(wanted.nominal if wanted.nominal is not None else sum(ends, Decimal(0)) / len(ends), wanted.unit)


def choose(
    old: Quantity, measured: Quantity, wanted: Band, sizes: Band, step: Quantity, thicker: Thicker = "less"
) -> Quantity:
    r"""Return the size to put in, in the unit of `sizes`.

    .. math:: t = t_{old} \\pm (c_{measured} - c_{wanted})

    with plus where a thicker one makes the clearance less; rounded to the nearest of `sizes`, which begin at its lower
    end and are `step` apart. The one to be had is returned only where the clearance then lies within `wanted`.
    Errors: TradeError `no-such-size` where none that there is gives that; QuantityError for mixed dimensions.
    Source: arithmetic; that a shim is solid and its seat does not move is assumed.

    >>> from docgen.trade.quantity import parse_band as band, parse_quantity as figure
    >>> print(choose(figure("2.50 mm"), figure("0.22 mm"), band("0.10..0.16 mm"), band("2.00..3.00 mm"),
    ...              figure("0.05 mm")))
    2.60 mm
    """
    unit, sign = sizes.unit, 1 if thicker == "less" else -1
    was, found, least = old.to(unit).value, measured.to(unit).value, sizes.low
    if least is None or sizes.high is None or step.value <= 0:
        raise TradeError("no-such-size", f"{sizes} in steps of {step} are no sizes to choose from")
    exact = was + sign * (found - aim(wanted).to(unit).value)
    width = step.to(unit).value
    size = least + width * ((exact - least) / width).to_integral_value(ROUND_HALF_EVEN)
    then = Quantity(found - sign * (size - was), unit)
    if not sizes.contains(Quantity(size, unit)) or not wanted.contains(then):
        message = f"no size of {sizes} in steps of {step} gives {wanted}: it would take {exact:f} {unit}"
        raise TradeError("no-such-size", message)
    return Quantity(size, unit)
