"""Stripping areas and the limits of size behind them."""

from __future__ import annotations

from docgen.trade.stripping import external_area_mm2, internal_area_mm2
from docgen.trade.threads import thread
from tests.trade.published import Published

TITLE = "Stripping areas, 6H/6g, engaged over one diameter"

TABLE = """
M5 35.366 49.994 4.826 4.605 4.361 4.334
M6 51.875 73.145 5.794 5.500 5.212 5.153
M8 97.290 134.63 7.760 7.348 7.042 6.912
M10 155.80 214.77 9.732 9.206 8.862 8.676
"""


def rows() -> list[Published]:
    found = []
    for line in TABLE.split("\n")[1:-1]:
        name, external, internal, ds, en, es, kn = line.split()
        of = thread(name)
        limits = of.limits
        areas, sizes = "Bickford's table of FED-STD-H28/2B areas", "ISO 965-2"
        found += [
            Published(f"{name} screw thread", external_area_mm2(of, of.d_mm), external, "mm2", areas, "copy"),
            Published(f"{name} boss thread", internal_area_mm2(of, of.d_mm), internal, "mm2", areas, "copy"),
            Published(f"{name} screw's least outside diameter", limits.screw_major_min, ds, "mm", sizes, "copy"),
            Published(f"{name} hole's largest pitch diameter", limits.hole_pitch_max, en, "mm", sizes, "copy"),
            Published(f"{name} screw's least pitch diameter", limits.screw_pitch_min, es, "mm", sizes, "copy"),
            Published(f"{name} hole's largest minor diameter", limits.hole_minor_max, kn, "mm", sizes, "copy"),
        ]
    return found
