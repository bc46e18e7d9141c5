"""What the threads of a screw and of the boss carry before they strip."""

import math
from dataclasses import dataclass

from docgen.trade.errors import check_range
from docgen.trade.materials import Boss, PropertyClass
from docgen.trade.threads import Thread

TAN_30 = 0.57735  # as FED-STD-H28/2B writes it
SCREW_SHEAR_SHARE = 0.6  # shear strength of a steel screw over its tensile strength (VDI 2230-1; from memory)


def internal_area_mm2(thread: Thread, engaged_mm: float) -> float:
    r"""Return the area over which the boss's threads shear, mm2.

    .. math:: AS_n = \pi\, \frac{L_e}{P}\, D_{s,min}
              \left[\frac{P}{2} + 0.57735\,(D_{s,min} - E_{n,max})\right]

    thread     : 6g screw in a 6H hole, at the limits of size that leave least overlap
    engaged_mm : L_e, full thread engaged, 0.5 d to 2.5 d; more than that does not carry its share
    Errors: TradeError `out-of-range`. Source: FED-STD-H28/2B (formula from memory).

    >>> from docgen.trade.threads import thread
    >>> round(internal_area_mm2(thread("M6"), 6), 3)  # Bickford's table: 73.145
    73.145
    """
    limits, pitch = thread.limits, thread.pitch_mm
    _check_engaged(thread, engaged_mm)
    overlap = pitch / 2 + TAN_30 * (limits.screw_major_min - limits.hole_pitch_max)
    return math.pi * engaged_mm / pitch * limits.screw_major_min * overlap


def external_area_mm2(thread: Thread, engaged_mm: float) -> float:
    r"""Return the area over which the screw's threads shear, mm2.

    .. math:: AS_s = \pi\, \frac{L_e}{P}\, K_{n,max}
              \left[\frac{P}{2} + 0.57735\,(E_{s,min} - K_{n,max})\right]

    engaged_mm : as for `internal_area_mm2`
    Errors: TradeError `out-of-range`. Source: FED-STD-H28/2B (formula from memory).

    >>> from docgen.trade.threads import thread
    >>> round(external_area_mm2(thread("M6"), 6), 3)  # Bickford's table: 51.875
    51.875
    """
    limits, pitch = thread.limits, thread.pitch_mm
    _check_engaged(thread, engaged_mm)
    overlap = pitch / 2 + TAN_30 * (limits.screw_pitch_min - limits.hole_minor_max)
    return math.pi * engaged_mm / pitch * limits.hole_minor_max * overlap


@dataclass(frozen=True)
class StripLoad:
    """The pull at which a thread strips, and on which side.

    load_n   : the lower of the two sides, N
    side     : `boss` or `screw thread`
    area_mm2 : sheared area on that side
    says     : how it was found, for the reader
    source   : of the formula and of the strength
    """

    load_n: float
    side: str
    area_mm2: float
    says: str
    source: str


def strip_load(thread: Thread, screw: PropertyClass, boss: Boss) -> StripLoad:
    """Return the pull at which the weaker of boss thread and screw thread strips.

    The boss's side carries tau_B ASn, the screw's 0.6 Rm ASs, N.
    The wall of the boss is taken as thick enough (outside at least 1.9 d) not to spread.
    Errors: TradeError `out-of-range` when the engaged length is not 0.5 d to 2.5 d.
    Sources: FED-STD-H28/2B for the areas, VDI 2230-1 for the share 0.6 (both from memory).

    >>> from docgen.trade.materials import boss, property_class
    >>> from docgen.trade.threads import thread
    >>> found = strip_load(thread("M6"), property_class("8.8"), boss("AZ91", 9))
    >>> found.side, round(found.load_n / 1000, 1)
    ('boss', 15.4)
    """
    inside = internal_area_mm2(thread, boss.engaged_mm)
    outside = external_area_mm2(thread, boss.engaged_mm)
    boss_n, screw_n = boss.shear_mpa * inside, SCREW_SHEAR_SHARE * screw.tensile_mpa * outside
    says = f"{boss.engaged_mm:g} mm of {thread} engaged in {boss.material}, shear strength {boss.shear_mpa:g} MPa"
    source = f"FED-STD-H28/2B; shear strength: {boss.source}"
    if boss_n <= screw_n:
        return StripLoad(boss_n, "boss", inside, says, source)
    return StripLoad(screw_n, "screw thread", outside, says, source)


def _check_engaged(thread: Thread, engaged_mm: float) -> None:
    check_range(f"engaged length of {thread}", engaged_mm, 0.5 * thread.d_mm, 2.5 * thread.d_mm, "mm")
