"""A thread bushed with a wire thread insert: what it carries before the insert tears out, or the screw strips."""

import math

from docgen.trade.errors import TradeError
from docgen.trade.materials import Boss, PropertyClass
from docgen.trade.stripping import SCREW_SHEAR_SHARE, TAN_30, StripLoad, external_area_mm2
from docgen.trade.threads import Thread

INSERT_SOURCE = "ASME B18.29.2M (form from the basic profile; lengths: copy of ASME B18.29.8M)"
INSERT_LENGTHS = (1.0, 1.5, 2.0, 2.5)  # times the nominal diameter; 3 d is made too, but does not carry its share


def engaged_mm(thread: Thread, diameters: float, screw_mm: float) -> float:
    """Return the length over which an insert is loaded, mm: its own less 0.75 P, or the screw's where that is less.

    diameters : nominal length of the insert, 1, 1.5, 2 or 2.5 d
    screw_mm  : how deep the screw goes in, mm
    Errors: TradeError `unknown-insert-length`. Source: ASME B18.29.2M (lengths: copy of ASME B18.29.8M).

    >>> from docgen.trade.threads import thread
    >>> engaged_mm(thread("M6"), 2, 9), engaged_mm(thread("M6"), 2, 14)
    (9, 11.25)
    """
    if diameters not in INSERT_LENGTHS:
        lengths = ", ".join(f"{each:g}" for each in INSERT_LENGTHS)
        raise TradeError(
            "unknown-insert-length", f"an insert is not made {diameters:g} d long", f"lengths: {lengths} d"
        )
    return min(screw_mm, diameters * thread.d_mm - 0.75 * thread.pitch_mm)


def hole_mm(thread: Thread) -> tuple[float, float]:
    r"""Return outside and pitch diameter of the thread that is cut for an insert, mm, with the screw's own d and P:

    .. math:: D = d + 1.299038\, P, \quad D_2 = d + 0.649519\, P

    Errors: none. Source: ASME B18.29.2M (form from the basic profile).

    >>> from docgen.trade.threads import thread
    >>> tuple(round(each, 3) for each in hole_mm(thread("M6")))
    (7.299, 6.65)
    """
    return thread.d_mm + 1.5 * thread.height_mm, thread.d_mm + 0.75 * thread.height_mm


def insert_area_mm2(thread: Thread, engaged_mm: float) -> float:
    """Return the area over which the boss shears outside an insert, mm2.

    Limits of size are taken as for a 6g screw in a 6H hole of the same pitch.
    engaged_mm : as `engaged_mm` gives it; 0.5 d to 2.5 d are checked by `insert_strip_load`
    Errors: none. Source: FED-STD-H28/2B (formula from memory), with the sizes of `hole_mm`.

    >>> from docgen.trade.threads import thread
    >>> round(insert_area_mm2(thread("M6"), 8.25), 1)
    123.1
    """
    limits = thread.limits
    major, pitch = hole_mm(thread)
    major_min = major - (thread.d_mm - limits.screw_major_min)
    pitch_max = pitch + (limits.hole_pitch_max - thread.pitch_diameter_mm)
    overlap = thread.pitch_mm / 2 + TAN_30 * (major_min - pitch_max)
    return math.pi * engaged_mm / thread.pitch_mm * major_min * overlap


def insert_strip_load(thread: Thread, diameters: float, screw: PropertyClass, boss: Boss) -> StripLoad:
    """Return the pull at which the insert tears out of the boss, or the screw's thread strips inside it.

    Only what the screw engages is loaded: a long insert does not help a short screw.
    diameters : nominal length of the insert, 1, 1.5, 2 or 2.5 d
    Errors: TradeError `unknown-insert-length`; `out-of-range` when the engaged length is not 0.5 d to 2.5 d.
    Source: FED-STD-H28/2B for the areas, VDI 2230-1 for the screw's share 0.6 (both from memory).

    >>> from docgen.trade.materials import boss, property_class
    >>> from docgen.trade.threads import thread
    >>> for engaged in (5, 9, 12):
    ...     found = insert_strip_load(thread("M6"), 1.5, property_class("8.8"), boss("AZ91", engaged))
    ...     print(found.side, round(found.load_n / 1000, 1))
    boss 10.4
    boss 17.2
    boss 17.2
    """
    engaged = engaged_mm(thread, diameters, boss.engaged_mm)
    outside, inside = external_area_mm2(thread, engaged), insert_area_mm2(thread, engaged)
    boss_n, screw_n = boss.shear_mpa * inside, SCREW_SHEAR_SHARE * screw.tensile_mpa * outside
    says = f"insert for {thread} in {boss.material}, shear strength {boss.shear_mpa:g} MPa"
    source = f"{INSERT_SOURCE}; {boss.source}"
    if boss_n <= screw_n:
        return StripLoad(boss_n, "boss", inside, says, source)
    return StripLoad(screw_n, "screw thread", outside, says, source)
