"""The model's torque overloads the screw or strips its thread, by the standards' own formulas."""

from docgen.club.schema.model import Fastener
from docgen.job.estimates import joint_of
from docgen.proof.case import Findings, Typed
from docgen.trade.errors import TradeError
from docgen.trade.tightening import TorqueCheck, check_torque

STRONGEST = "12.9"


def on_model(typed: Typed) -> Findings:
    """One finding at the torque. Without a class, only what overloads even class 12.9 is told.

    Sources: VDI 2230-1, FED-STD-H28/2B, as in :mod:`docgen.trade.tightening`; no margin is taken.
    """
    for name, fastener in typed.model.value.fasteners.items():
        found = checked(fastener, STRONGEST)
        if found and found.verdict in ("overloads", "may-overload"):
            reach = f"{found.preload_low_kn:.1f} to {found.preload_high_kn:.1f} kN"
            taken = "" if fastener.grade else f" of class {STRONGEST}, the strongest there is: the model names no class"
            share = f"{found.share_low * 100:.0f} to {found.share_high * 100:.0f} %"
            yield typed.finding(("fasteners", name, "torque"), f"{name}: {found.says}",
                                "check the figure and its unit against the maker's manual",
                                (f"the torque pulls with {reach}, {share} of the proof load{taken}",))  # fmt: skip


def checked(fastener: Fastener, grade_taken: str) -> TorqueCheck | None:
    """The torque against screw and boss; a fastener without class is taken as of `grade_taken`."""
    torque = fastener.torque
    if torque is None or torque.high is None:
        return None
    if fastener.grade is None:
        fastener = fastener.model_copy(update={"grade": grade_taken})
    joint = joint_of(fastener) or joint_of(screw_only(fastener))
    try:
        return check_torque(joint, torque) if joint else None
    except TradeError:
        return None


def screw_only(fastener: Fastener) -> Fastener:
    """The fastener as it would be in a full nut, with a hexagon head: its screw can be checked whatever it sits in."""
    return fastener.model_copy(update={"boss": None, "insert": None, "drive": None})
