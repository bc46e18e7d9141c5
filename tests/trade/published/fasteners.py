"""Threads and the loads that they bear."""

from __future__ import annotations

from docgen.trade.materials import property_class
from docgen.trade.threads import thread
from tests.trade.published import Published

TITLE = "Threads and proof loads"

SIZES = """
M3x0.5 2.675 2.459 2.387 5.03 copy
M4x0.7 3.545 3.242 3.141 8.78 copy
M5x0.8 4.480 4.134 4.019 14.2 copy
M6x1 5.350 4.917 4.773 20.1 copy
M8x1.25 7.188 6.647 6.466 36.6 copy
M8x1 7.350 6.917 6.773 39.17 calc
M10x1.5 9.026 8.376 8.160 58.0 copy
M10x1.25 9.188 8.647 8.466 61.20 calc
M12x1.75 10.863 10.106 9.853 84.3 copy
"""
PROOF_LOADS = """
M5 8230 11800 13800
M6 11600 16700 19500
M8 21200 30400 35500
M10 33700 48100 56300
"""
ISO_898 = "ISO 898-1"


def rows() -> list[Published]:
    return [*_sizes(), *_proof_loads()]


def _sizes() -> list[Published]:
    found = []
    for line in SIZES.split("\n")[1:-1]:
        name, d2, d1, d3, area, standing = line.split()
        of = thread(name)
        for what, ours, shown, unit in (
            ("pitch diameter d2", of.pitch_diameter_mm, d2, "mm"),
            ("minor diameter of hole D1", of.internal_minor_mm, d1, "mm"),
            ("core diameter d3", of.core_mm, d3, "mm"),
            ("stress area As", of.stress_area_mm2, area, "mm2"),
        ):
            source = ISO_898 if unit == "mm2" else "ISO 724"
            found.append(Published(f"{name} {what}", ours, shown, unit, source, standing))
    return found


def _proof_loads() -> list[Published]:
    reason = "the source rounds the stress area first and then, up or down, to its own step"
    found = []
    for line in PROOF_LOADS.split("\n")[1:-1]:
        name, *loads = line.split()
        for kind, shown in zip(("8.8", "10.9", "12.9"), loads, strict=True):
            ours = property_class(kind).proof_load_n(thread(name))
            step = "10" if len(shown) == 4 else "100"
            row = Published(f"{name} proof load, class {kind}", ours, shown, "N", ISO_898, "copy", rounding=step)
            found.append(row.or_one_step(reason))
    return found
