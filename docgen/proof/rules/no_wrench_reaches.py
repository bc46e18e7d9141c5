"""A torque that no wrench of the register sets: outside its range, or below a fifth of its full scale."""

from collections.abc import Iterator

from docgen.job import tooling
from docgen.proof.case import Findings, Typed
from docgen.trade.quantity import Band
from docgen.trade.wrench import TESTED_FROM


def on_model(typed: Typed) -> Findings:
    """One finding at the torque, or at each tightening stage. Below a fifth a wrench is not tested (ISO 6789, copy)."""
    for name, fastener in typed.model.value.fasteners.items():
        torques: list[tuple[tuple[str | int, ...], Band]] = [(("stages", i), t) for i, t in enumerate(fastener.stages)]
        if fastener.torque:
            torques.insert(0, (("torque",), fastener.torque))
        for key, torque in torques:
            chosen = tooling.torque_wrench(typed.club.value, torque)
            if chosen is None or chosen[1].setting.value < TESTED_FROM * chosen[1].wrench.high:
                yield typed.finding(
                    ("fasteners", name, *key),
                    f"no torque wrench of the register sets {tooling.middle(torque)} for {name}",
                    "check figure and unit; else register a wrench whose range has it above its lowest fifth",
                    tuple(_wrenches(typed)),
                )


def _wrenches(typed: Typed) -> Iterator[str]:
    for tool in typed.club.value.tools.values():
        span = tool.torque
        if span and span.high is not None:
            lowest = max(span.high * TESTED_FROM, span.low or span.high * TESTED_FROM).normalize()
            yield f"registered: {tool.name}, to be used from {lowest:f} {span.unit} up"
