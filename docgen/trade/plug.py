"""Spark plugs: torque by thread, seat and head, and the angle past finger-tight where there is no torque wrench."""

from dataclasses import dataclass
from decimal import Decimal

from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity
from docgen.trade.tables import read_table


@dataclass(frozen=True)
class PlugTightening:
    """How tight a spark plug is made, by the plug makers' charts: to be printed below the engine maker's own figure.

    torque : for clean dry threads, N.m to one decimal
    turn   : past finger-tight, in turns; None where no instruction is known for the thread
    """

    torque: Band
    turn: Band | None
    source: str


def plug(thread: str, seat: str = "gasket", head: str = "aluminium", *, gasket: str = "new") -> PlugTightening:
    """Return torque and angle for a plug thread (`M10`, `M14x1.25` ...), seat, head material and gasket.

    seat   : `gasket` or `taper`
    head   : `aluminium` or `cast-iron`
    gasket : `new` or `used` (of no matter for a taper)
    Errors: TradeError `unknown-plug`, with what is known. Source: plug makers' charts (copy), in lbf.ft.

    >>> found = plug("M14")
    >>> print(found.torque, "or", found.turn)
    24.4..29.3 N.m or 0.5..0.75 turn
    """
    rows = [row for row in read_table("plugs") if thread in (row["thread"], row["thread"].split("x")[0])]
    rows = [row for row in rows if (row["seat"], row["head"]) == (seat, head)]
    if not rows or gasket not in ("new", "used"):
        known = sorted({f"{row['thread']} {row['seat']} {row['head']}" for row in read_table("plugs")})
        asked = f"{thread}, {seat} seat, {head} head, {gasket} gasket"
        raise TradeError("unknown-plug", f"no chart is known for a plug {asked}", f"known: {', '.join(known)}")
    row = rows[0]
    low, high = (_tenths(Decimal(row[column])) for column in ("low_lbf_ft", "high_lbf_ft"))
    return PlugTightening(Band(low, high, "N.m"), _turn(row["thread"], seat, gasket), row["source"])


def _tenths(lbf_ft: Decimal) -> Decimal:
    return Quantity(lbf_ft, "lbf.ft").to("N.m").value.quantize(Decimal("0.1"))


def _turn(thread: str, seat: str, gasket: str) -> Band | None:
    for row in read_table("plug_turns"):
        same = row["seat"] == seat and row["gasket"] in (gasket, "none")
        if same and thread.split("x")[0] in row["threads"].split():
            return Band(Decimal(row["low_turn"]), Decimal(row["high_turn"]), "turn")
    return None
