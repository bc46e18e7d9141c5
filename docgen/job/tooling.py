"""Which registered tool turns a fastener, and which wrench sets its torque."""

from __future__ import annotations

from docgen.club.schema.club import Club, Tool
from docgen.club.schema.model import Fastener
from docgen.job import wording
from docgen.trade.quantity import Band, Quantity

_DRIVE_WORDS = {
    "hex": "socket",
    "hex-socket": "hexagon key",
    "square": "square key",
    "hexalobular": "hexalobular driver, size",
    "cross": "cross-recess driver, size",
    "plug": "plug socket",
    "slot": "flat-blade driver",
    "hand": "by hand",
}


def drive_tool(club: Club, fastener: Fastener) -> tuple[str, str]:
    """Register id (empty where none) and printed name of what turns the fastener."""
    if not fastener.drive:
        return "", ""
    for name, tool in club.tools.items():
        if fastener.drive in tool.drives:
            return name, tool.name
    kind, _, size = fastener.drive.partition(" ")
    words = _DRIVE_WORDS[kind]
    return "", f"{words} {size}" if words.endswith("size") else f"{size} {words}".strip()


def torque_wrench(club: Club, torque: Band) -> tuple[str, Tool] | None:
    """The registered wrench with the smallest full scale that reaches the torque from its lower fifth up."""
    nominal = middle(torque)
    fitting = [
        (tool.torque.high, name, tool)
        for name, tool in club.tools.items()
        if tool.torque is not None
        and tool.torque.high is not None
        and tool.torque.contains(nominal)
        and nominal.exactly("N.m") >= Quantity(tool.torque.high, tool.torque.unit).exactly("N.m") / 5
    ]
    if not fitting:
        return None
    _, name, tool = min(fitting, key=lambda one: Quantity(one[0], one[2].torque.unit).exactly("N.m"))  # type: ignore[union-attr]
    return name, tool


def middle(torque: Band) -> Quantity:
    """The figure that a wrench is set to: the nominal, or the middle of the range."""
    if torque.nominal is not None:
        return Quantity(torque.nominal, torque.unit)
    low, high = (
        torque.low if torque.low is not None else torque.high,
        torque.high if torque.high is not None else torque.low,
    )
    assert low is not None and high is not None
    return Quantity((low + high) / 2, torque.unit)


def in_units(torque: Band, units: tuple[str, ...]) -> tuple[str, ...]:
    """The torque's middle in each unit that the club shows besides the written one, to the nearest whole or tenth."""
    shown = []
    for unit in units:
        if unit == torque.unit:
            continue
        value = float(middle(torque).exactly(unit))
        shown.append(f"{value:.0f} {wording.unit(unit)}" if value >= 30 else f"{value:.1f} {wording.unit(unit)}")
    return tuple(shown)
