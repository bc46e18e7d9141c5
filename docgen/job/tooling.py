"""Which registered tool turns a fastener, and which wrench sets its torque."""

from dataclasses import replace
from decimal import Decimal

from docgen.club.schema.club import Club
from docgen.club.schema.model import Fastener
from docgen.club.words import Words, message
from docgen.trade.errors import TradeError
from docgen.trade.quantity import Band, Quantity
from docgen.trade.wrench import Setting, Wrench, choose, rounded

DRIVE_TOOLS = {
    "hex": message("{size} socket"),
    "hex-socket": message("{size} hexagon key"),
    "square": message("{size} square key"),
    "hexalobular": message("hexalobular driver, size {size}"),
    "cross": message("cross-recess driver, size {size}"),
    "plug": message("{size} plug socket"),
    "slot": message("flat-blade driver"),
    "hand": message("by hand"),
}
"""What turns each drive where the club has registered nothing for it."""
_DRIVE_SIZES = {
    "hex": message("hex {size}"),
    "hex-socket": message("hex-socket {size}"),
    "square": message("square {size}"),
    "hexalobular": message("hexalobular {size}"),
    "cross": message("cross {size}"),
    "plug": message("plug {size}"),
    "slot": message("slot"),
    "hand": message("hand"),
}


def drive_tool(club: Club, fastener: Fastener, w: Words) -> tuple[str, str]:
    """Register id (empty where none) and printed name of what turns the fastener."""
    if not fastener.drive:
        return "", ""
    for name, tool in club.tools.items():
        if fastener.drive in tool.drives:
            return name, tool.name
    kind, _, size = fastener.drive.partition(" ")
    return "", w(DRIVE_TOOLS[kind], size=w.number(size))


def drive_size(fastener: Fastener, w: Words) -> str:
    """A screw drive as the models write it, in the words' language; empty where none is known."""
    kind, _, size = (fastener.drive or "").partition(" ")
    return w(_DRIVE_SIZES[kind], size=w.number(size)).strip() if kind else ""


def torque_wrench(club: Club, torque: Band) -> tuple[str, Setting] | None:
    """The registered wrench that sets the torque best, by its id, with the mark to set; None when none reaches."""
    try:
        wrenches = {
            name: Wrench(
                tool.name, tool.torque.low, tool.torque.high, tool.step.to(tool.torque.unit).value, tool.torque.unit
            )
            for name, tool in club.tools.items()
            if tool.torque is not None and tool.torque.low is not None and tool.torque.high is not None and tool.step
        }
        chosen = choose(list(wrenches.values()), torque)
    except TradeError:
        return None
    return next(name for name, wrench in wrenches.items() if wrench is chosen.wrench), chosen


def middle(torque: Band) -> Quantity:
    """The figure that a wrench is set to: the nominal, or the middle of the range."""
    if torque.nominal is not None:
        return Quantity(torque.nominal, torque.unit)
    ends = [end for end in (torque.low, torque.high) if end is not None]
    return Quantity(sum(ends, Decimal(0)) / len(ends), torque.unit)


def in_units(torque: Band, units: tuple[str, ...]) -> tuple[Band, ...]:
    """The torque in each unit that the club shows besides the written one: its ends, rounded inwards."""
    shown = []
    for unit in units:
        if unit != torque.unit:
            coarse = middle(torque).exactly(unit) >= 30
            ends = _rounded(torque, unit, Decimal(1) if coarse else Decimal("0.1"))
            shown.append(replace(ends, nominal=None))
    return tuple(shown)


def _rounded(torque: Band, unit: str, step: Decimal) -> Band:
    """Rounded to a step, or to the next finer one of which some multiple lies in the band."""
    for finer in (step, step / 10, step / 100):
        try:
            return rounded(torque, unit, finer)
        except TradeError:
            continue
    return torque.to(unit)
