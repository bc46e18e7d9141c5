"""Spark plugs, and oil in petrol."""

from __future__ import annotations

from decimal import Decimal

from docgen.trade import fuel, plug
from tests.trade.published import Published

TITLE = "Spark plugs, and oil in petrol"


def rows() -> list[Published]:
    gasket = plug.plug("M14", "gasket", "aluminium").torque
    assert gasket.low is not None
    assert gasket.high is not None
    plugs, parts = "plug makers' charts, which give lbf.ft and N.m", "ratio of volumes"
    return [
        Published("M14 plug, gasket, aluminium: 18 lbf.ft", float(gasket.low), "24.4", "N.m", plugs, "copy"),
        Published("M14 plug, gasket, aluminium: 21.6 lbf.ft", float(gasket.high), "29.3", "N.m", plugs, "copy"),
        *(
            Published(f"oil for {litres} l at {ratio}:1", float(fuel.mix(Decimal(litres), Decimal(ratio)).oil_ml), oil,
                      "ml", parts, "calc")
            for litres, ratio, oil in ((5, 25, "200"), (10, 24, "417"))
        ),
    ]  # fmt: skip
