"""Engine arithmetic: displacement, compression, squish, piston speed and the oil for a can of fuel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from docgen.trade.errors import TradeError, check_range


def swept_cc(bore_mm: float, length_mm: float) -> float:
    r"""Return the volume that a piston sweeps over a length of its stroke: :math:`\pi/4\; B^2 S / 1000`, in cc.

    bore_mm : 20 to 150; length_mm : 0 to 200. Errors: TradeError `out-of-range`.

    >>> round(swept_cc(54, 54.5), 3)  # published: 124.817
    124.817
    """
    check_range("bore", bore_mm, 20, 150, "mm")
    check_range("length of stroke", length_mm, 0, 200, "mm")
    return math.pi / 4 * bore_mm**2 * length_mm / 1000


def compression_ratio(bore_mm: float, length_mm: float, head_cc: float) -> float:
    r"""Return the compression ratio :math:`(V_s + V_c) / V_c` from a measured volume.

    length_mm : the whole stroke gives the geometric ratio; piston travel from the closing of the exhaust port to top
                dead centre gives the trapped ratio of a two-stroke
    head_cc   : volume above the piston at top dead centre, measured with a burette, 1 to 500 cc
    Errors: TradeError `out-of-range`.

    >>> round(compression_ratio(54, 54.5, 8.5), 2), round(compression_ratio(54, 28, 8.5), 2)  # published
    (15.68, 8.54)
    """
    check_range("volume above the piston", head_cc, 1, 500, "cc")
    return swept_cc(bore_mm, length_mm) / head_cc + 1


def head_volume_for_cc(bore_mm: float, length_mm: float, ratio: float) -> float:
    """Return the volume above the piston that gives a compression ratio, cc: the inverse of `compression_ratio`.

    ratio : over 1, to 30. Errors: TradeError `out-of-range`.
    """
    check_range("compression ratio", ratio, 1.01, 30)
    return swept_cc(bore_mm, length_mm) / (ratio - 1)


@dataclass(frozen=True)
class Squish:
    """Squish clearance from solder pressed at several places, mm: the least, the mean, and how far they differ."""

    least_mm: float
    mean_mm: float
    spread_mm: float


def squish(readings_mm: Sequence[float]) -> Squish:
    """Return the squish clearance from two or more solder readings, each 0.1 to 5 mm.

    The least is what counts against the limit; a spread tells of a tilted piston, cylinder or head.
    Errors: TradeError `out-of-range`, `too-few-readings`.

    >>> squish([1.00, 1.04]).least_mm
    1.0
    """
    if len(readings_mm) < 2:
        raise TradeError("too-few-readings", "squish needs solder on two sides of the piston, above the pin")
    for reading in readings_mm:
        check_range("squish reading", reading, 0.1, 5, "mm")
    return Squish(min(readings_mm), math.fsum(readings_mm) / len(readings_mm), max(readings_mm) - min(readings_mm))


def gasket_for_squish_mm(present_mm: float, measured_mm: float, wanted_mm: float) -> float:
    """Return the total thickness of cylinder base gaskets that gives the wanted squish, mm.

    present_mm : gaskets there now, 0 to 5; measured_mm, wanted_mm : squish, 0.1 to 5.
    Errors: TradeError `out-of-range`; `no-such-gasket` when less than nothing would be needed.

    >>> round(gasket_for_squish_mm(0.40, 1.15, 1.00), 2)
    0.25
    """
    check_range("gaskets there now", present_mm, 0, 5, "mm")
    check_range("squish measured", measured_mm, 0.1, 5, "mm")
    check_range("squish wanted", wanted_mm, 0.1, 5, "mm")
    needed = present_mm + wanted_mm - measured_mm
    if needed < 0:
        raise TradeError("no-such-gasket", f"even without a gasket the squish stays {-needed:.2f} mm too large")
    return needed


def piston_speed_m_s(stroke_mm: float, rpm: float) -> float:
    r"""Return the mean piston speed :math:`2 S n`, m/s.

    stroke_mm : 10 to 200; rpm : 0 to 25 000. Errors: TradeError `out-of-range`.

    >>> round(piston_speed_m_s(54.5, 14000), 1)
    25.4
    """
    check_range("stroke", stroke_mm, 10, 200, "mm")
    check_range("engine speed", rpm, 0, 25000, "rpm")
    return 2 * stroke_mm / 1000 * rpm / 60


def oil_for_fuel_ml(fuel_l: float, ratio: float) -> float:
    """Return the oil for a can of fuel, ml: fuel over ratio (25 for 25:1, parts of fuel to one of oil).

    fuel_l : 0.1 to 200; ratio : 10 to 100. Errors: TradeError `out-of-range`.

    >>> oil_for_fuel_ml(5, 25), oil_for_fuel_ml(5, 16)
    (200.0, 312.5)
    """
    check_range("fuel in the can", fuel_l, 0.1, 200, "l")
    check_range("parts of fuel to one of oil", ratio, 10, 100)
    return fuel_l * 1000 / ratio


def fuel_for_oil_l(oil_ml: float, ratio: float) -> float:
    """Return how much fuel an amount of oil mixes with, l: the inverse of `oil_for_fuel_ml`."""
    check_range("oil", oil_ml, 1, 20000, "ml")
    check_range("parts of fuel to one of oil", ratio, 10, 100)
    return oil_ml * ratio / 1000
