"""Units."""

from __future__ import annotations

from docgen.trade.units import factor
from tests.trade.published import Published

TITLE = "Units"


def rows() -> list[Published]:
    exact = "exact by definition (NIST SP 811)"
    torque = [("lbf.in", "0.1129848290276167"), ("lbf.ft", "1.3558179483314004")]
    found = [
        Published(f"1 {unit}", float(factor(unit, "N.m")), shown, "N.m", exact, "calc", within=1e-15, because="doubles")
        for unit, shown in torque
    ]
    found.append(Published("1 psi", float(factor("psi", "Pa")), "6894.757293168", "Pa", exact, "calc"))
    return found
