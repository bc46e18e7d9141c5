"""Engine arithmetic and spark plugs."""

from __future__ import annotations

from docgen.trade import engine, plug
from tests.trade.published import Published

TITLE = "Engine arithmetic and spark plugs"


def rows() -> list[Published]:
    gasket = plug.plug("M14", "gasket", "aluminium")
    assert gasket.torque.low is not None
    assert gasket.torque.high is not None
    assert gasket.turn is not None
    assert gasket.turn.low is not None
    assert gasket.turn.high is not None
    in_feet = gasket.torque.to("lbf.ft")
    assert in_feet.low is not None
    assert in_feet.high is not None
    bench, plugs = "two-stroke worked example", "plug makers' charts"
    return [
        Published("displacement, bore 54 stroke 54.5", engine.swept_cc(54, 54.5), "124.817", "cc", bench, "copy"),
        Published(
            "geometric compression ratio, head 8.5 cc",
            engine.compression_ratio(54, 54.5, 8.5),
            "15.68",
            "",
            bench,
            "copy",
        ),
        Published(
            "trapped compression ratio, exhaust at 28 mm",
            engine.compression_ratio(54, 28, 8.5),
            "8.54",
            "",
            bench,
            "copy",
        ),
        Published("oil for 5 l at 25:1", engine.oil_for_fuel_ml(5, 25), "200", "ml", "ratio of volumes", "calc"),
        Published("oil for 5 l at 16:1", engine.oil_for_fuel_ml(5, 16), "312.5", "ml", "ratio of volumes", "calc"),
        Published("M14 plug, gasket, aluminium: least", float(gasket.torque.low), "24.4", "N.m", plugs, "copy"),
        Published("M14 plug, gasket, aluminium: most", float(gasket.torque.high), "29.3", "N.m", plugs, "copy"),
        Published("M14 plug, the same in lbf.ft: least", float(in_feet.low), "18.0", "lbf.ft", plugs, "copy"),
        Published("M14 plug, the same in lbf.ft: most", float(in_feet.high), "21.6", "lbf.ft", plugs, "copy"),
        Published("new gasket, past finger-tight: least", float(gasket.turn.low), "0.5", "turn", plugs, "copy"),
        Published("new gasket, past finger-tight: most", float(gasket.turn.high), "0.75", "turn", plugs, "copy"),
    ]
