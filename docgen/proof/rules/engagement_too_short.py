"""So little thread is engaged that the boss strips before the screw has reached its proof load."""

from docgen.job.estimates import joint_of
from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.threads import thread

LEAST = 0.5
"""Least engaged length, in diameters, for which the stripping formulas hold (FED-STD-H28/2B)."""


def on_model(typed: Typed) -> Findings:
    """One finding at the engaged length, with both loads."""
    for name, fastener in typed.model.value.fasteners.items():
        if fastener.boss is None or fastener.boss.engaged is None or fastener.thread is None:
            continue
        loc = ("fasteners", name, "boss", "engaged")
        engaged = fastener.boss.engaged
        try:
            diameter = thread(fastener.thread.removesuffix(" left")).d_mm
        except TradeError:
            continue
        joint = joint_of(fastener)
        if float(engaged.exactly("mm")) < LEAST * diameter:
            yield typed.finding(loc, f"{name}: {engaged} of {fastener.thread} is less than half a diameter",
                                "check the length; a thread this short is not to be tightened by torque")  # fmt: skip
        elif joint and joint.strip and joint.strip.load_n < joint.proof_n:
            yield typed.finding(
                loc,
                f"{name}: the {joint.strip.side} strips at {joint.strip.load_n / 1000:.1f} kN, before the screw"
                f" reaches its proof load of {joint.proof_n / 1000:.1f} kN",
                "check the length; else use a longer screw, an insert, or a lower class",
                (joint.strip.says,),
            )
