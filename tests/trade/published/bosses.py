"""What a boss bears: the pull at which it strips, the margin of an estimate, and inserts."""

from __future__ import annotations

from decimal import Decimal

from docgen.trade.friction import friction, seat
from docgen.trade.inserts import engaged_mm, hole_mm, insert_strip_load
from docgen.trade.materials import boss, property_class
from docgen.trade.stripping import strip_load
from docgen.trade.threads import thread
from docgen.trade.tightening import Joint, estimate, preload_n
from tests.trade.published import Published

TITLE = "Bosses, the margin against stripping, and inserts"
SAYS = """An estimate lets a boss be pulled with half of what strips it. The areas are those of the table below; the
shear strength of AZ91, 140 MPa, is a typical figure of a die casting (copy). Every figure here is checked at least once
against another way to it, by hand.
"""
HOLES = """
M5x0.8 6.039 5.520
M6x1 7.299 6.650
M8x1.25 9.624 8.812
M10x1.5 11.949 10.974
"""


def rows() -> list[Published]:
    of, screw, by_hand = thread("M6"), property_class("8.8"), "Bickford's area of M6 over 6 mm, 73.145 mm2, by hand"
    strip = strip_load(of, screw, boss("AZ91", 9))
    joint = Joint(of, screw, friction("oiled", screw), seat(of), strip)
    found = estimate(joint, tolerance_percent=Decimal(10), step_nm=Decimal("0.5"))
    ceiling = preload_n(of, joint.seat, joint.friction.low, found.ceiling_nm) / 1000
    short, long = (insert_strip_load(of, 1.5, screw, boss("AZ91", engaged)) for engaged in (5, 9))
    formula, table = "ASME B18.29.2M formula, by hand", "DIN 8140-2, hole for an insert"
    shear = "0.6 Rm on Bickford's area of the M6 screw thread over 6 mm, 51.875 mm2, by hand"
    inside = strip_load(of, property_class("5.8"), boss("7075-T6", 9))
    calculated = [
        ("M6 strips 9 mm of AZ91", strip.load_n / 1000, "15.36", "kN", by_hand),
        ("the same: most that an estimate lets it be pulled", ceiling, "7.68", "kN", by_hand),
        ("M6 of class 5.8 strips itself in 9 mm of 7075-T6", inside.load_n / 1000, "24.28", "kN", shear),
        ("insert 1.5 d of M6: loaded by a screw 9 mm deep", engaged_mm(of, 1.5, 9), "8.25", "mm", formula),
        ("the same by a screw 5 mm deep", engaged_mm(of, 1.5, 5), "5", "mm", formula),
        ("insert 1.5 d of M6 tears out of AZ91, screw 9 mm", long.load_n / 1000, "17.2", "kN", formula),
        ("the same, screw 5 mm", short.load_n / 1000, "10.4", "kN", formula),
    ]
    return [
        *(Published(*row, "calc") for row in calculated),
        *(
            Published(f"hole for an insert of {name}: {what}", ours, shown, "mm", table, "memory")
            for name, *sizes in (line.split() for line in HOLES.split("\n")[1:-1])
            for what, ours, shown in zip(("outside", "pitch diameter"), hole_mm(thread(name)), sizes, strict=True)
        ),
    ]
