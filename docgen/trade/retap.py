"""What a stripped thread's repair does to the joint: re-tapped a size up, or bushed with a wire thread insert."""

from __future__ import annotations

import math
from dataclasses import dataclass

from docgen.trade.errors import TradeError
from docgen.trade.friction import drive, seat
from docgen.trade.materials import Boss
from docgen.trade.stripping import TAN_30, StripLoad, internal_area_mm2
from docgen.trade.threads import Thread, threads

INSERT_SOURCE = "ASME B18.29.2M (form from the basic profile; lengths: copy of ASME B18.29.8M)"
INSERT_LENGTHS = (1.0, 1.5, 2.0, 2.5)  # times the nominal diameter; 3 d is made too, but does not carry its share


@dataclass(frozen=True)
class Repair:
    """A repaired thread, and what it changes on the sheet.

    before, after   : the screw's thread; the same for an insert
    drill_mm        : tapping drill; for an insert the least hole, the insert's maker gives the drill
    area_before_mm2 : boss area sheared before, over the engaged length asked for
    area_after_mm2  : the same after the repair
    voids           : what of the maker's figures no longer holds, in words
    changes         : what else changes, in words
    source          : of the geometry
    """

    before: Thread
    after: Thread
    drill_mm: float
    area_before_mm2: float
    area_after_mm2: float
    voids: tuple[str, ...]
    changes: tuple[str, ...]
    source: str

    @property
    def strength_ratio(self) -> float:
        """How much more the boss carries than before, over the same length."""
        return self.area_after_mm2 / self.area_before_mm2


def next_size(thread: Thread) -> Thread:
    """Return the next coarse thread whose tapping drill takes the whole of the old thread away.

    Sizes of the first and second choice of ISO 261. Errors: TradeError `no-larger-thread` beyond M16.

    >>> from docgen.trade.threads import thread
    >>> next_size(thread("M6")).name, next_size(thread("M8")).name, next_size(thread("M3")).name
    ('M8x1.25', 'M10x1.5', 'M4x0.7')
    """
    for each in threads().values():
        if each.coarse and each.choice < 3 and each.tapping_drill_mm >= thread.d_mm:
            return each
    raise TradeError("no-larger-thread", f"no thread of the table is large enough to replace {thread}")


def retap(before: Thread, after: Thread, engaged_mm: float) -> Repair:
    """Return what re-tapping to a larger thread does, over the same engaged length.

    The maker's torque, drive and source belong to the old thread and are void.
    Errors: TradeError `old-thread-remains` when the new tapping drill leaves part of the old thread; `out-of-range`
    when the engaged length does not suit both threads (0.5 d to 2.5 d).

    >>> from docgen.trade.threads import thread
    >>> done = retap(thread("M6"), thread("M8"), 12)
    >>> done.drill_mm, round(done.strength_ratio, 2), done.voids[0]
    (6.8, 1.38, 'torque given for M6x1')
    """
    if after.tapping_drill_mm < before.d_mm:
        raise TradeError(
            "old-thread-remains",
            f"the {after.tapping_drill_mm:g} mm hole for {after} leaves part of the old {before}",
            f"the next size is {next_size(before)}",
        )
    old, new = drive(before), drive(after)
    return Repair(
        before,
        after,
        after.tapping_drill_mm,
        internal_area_mm2(before, engaged_mm),
        internal_area_mm2(after, engaged_mm),
        voids=(f"torque given for {before}", f"drive given for {before}", "source of both"),
        changes=(
            f"hexagon {old.hex_mm:g} mm becomes {new.hex_mm:g} mm; key of a cap screw {old.key_mm:g} mm becomes"
            f" {new.key_mm:g} mm",
            f"hole in the part above: {seat(before).hole_mm:g} mm becomes {seat(after).hole_mm:g} mm",
        ),
        source="ISO 261, ISO 272, ISO 273, ISO 4762; FED-STD-H28/2B for the areas",
    )


def insert(thread: Thread, diameters: float) -> Repair:
    r"""Return what a wire thread insert of a length in nominal diameters does.

    The hole for the insert has, with the screw's own d and P:

    .. math:: D = d + 1.299038\, P, \quad D_2 = d + 0.649519\, P, \quad D_1 = d + 0.216506\, P

    and the insert engages its nominal length less 0.75 P. Limits of size are taken as for a 6g screw in a 6H hole
    of the same pitch. The screw, its drive and its size stay; the maker's torque was given for the bare thread.
    diameters : 1, 1.5, 2 or 2.5. Errors: TradeError `unknown-insert-length`.

    >>> from docgen.trade.threads import thread
    >>> done = insert(thread("M6"), 1.5)
    >>> round(done.drill_mm, 2), done.after.name, round(done.strength_ratio, 2)
    (6.22, 'M6x1', 1.12)
    """
    if diameters not in INSERT_LENGTHS:
        lengths = ", ".join(f"{each:g}" for each in INSERT_LENGTHS)
        raise TradeError(
            "unknown-insert-length", f"an insert is not made {diameters:g} d long", f"lengths: {lengths} d"
        )
    nominal = diameters * thread.d_mm
    engaged = nominal - 0.75 * thread.pitch_mm
    limits = thread.limits
    major = thread.d_mm + 1.5 * thread.height_mm
    major_min = major - (thread.d_mm - limits.screw_major_min)
    pitch_max = thread.d_mm + 0.75 * thread.height_mm + (limits.hole_pitch_max - thread.pitch_diameter_mm)
    overlap = thread.pitch_mm / 2 + TAN_30 * (major_min - pitch_max)
    return Repair(
        thread,
        thread,
        thread.d_mm + 0.25 * thread.height_mm,
        internal_area_mm2(thread, nominal),
        math.pi * engaged / thread.pitch_mm * major_min * overlap,
        voids=(f"torque given for {thread} in the bare boss: the maker's for the screw, not for the insert",),
        changes=(
            f"tap for the insert: outside {major:.2f} mm, hole at least {thread.d_mm + 0.25 * thread.height_mm:.2f} mm",
            f"insert {nominal:g} mm long ({diameters:g} d)",
        ),
        source=INSERT_SOURCE,
    )


def insert_strip_load(repair: Repair, boss: Boss) -> StripLoad:
    """Return the pull at which an insert tears out of a boss, N, for `tightening.Joint`.

    >>> from docgen.trade.materials import boss
    >>> from docgen.trade.threads import thread
    >>> round(insert_strip_load(insert(thread("M6"), 1.5), boss("AZ91", 9)).load_n / 1000, 1)
    17.2
    """
    says = f"insert for {repair.after} in {boss.material}, shear strength {boss.shear_mpa:g} MPa"
    return StripLoad(
        boss.shear_mpa * repair.area_after_mm2, "boss", repair.area_after_mm2, says, f"{repair.source}; {boss.source}"
    )
