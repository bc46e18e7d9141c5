"""A torque computed where nobody gives one: only for joints that a wrong estimate does not wreck."""

from decimal import Decimal

from docgen.club.schema.model import Fastener
from docgen.trade.errors import TradeError
from docgen.trade.friction import friction, seat
from docgen.trade.inserts import insert_strip_load
from docgen.trade.materials import boss, boss_materials, property_class
from docgen.trade.stripping import strip_load
from docgen.trade.threads import thread
from docgen.trade.tightening import Estimate, Joint, estimate

HEADS = {"hex-socket": "cap"}


def may_be_estimated(fastener: Fastener) -> bool:
    """Whether a computed torque may be printed for this fastener at all.

    Never for what the model calls critical (crankshaft-end nuts, plug, head nuts, carburettor screws), for what only
    hands tighten, for what only seals an opening, or for screws into plastic: there the line stays blank.
    """
    plastic = fastener.boss is not None and fastener.boss.material == "plastic"
    by_hand = fastener.hand_only or fastener.catch or fastener.by_feel
    return not (fastener.critical or fastener.sealing or by_hand or plastic)


def joint_of(fastener: Fastener) -> Joint | None:
    """The fastener as the tightening formulas see it, or None when the model says too little."""
    if fastener.thread is None or fastener.grade is None:
        return None
    try:
        size, screw = thread(fastener.thread.removesuffix(" left")), property_class(fastener.grade)
        strip = None
        if fastener.boss is not None:
            if fastener.boss.engaged is None:
                return None
            engaged = float(fastener.boss.engaged.exactly("mm"))
            known = [boss(name, engaged) for name in boss_materials()]
            alike = [one for one in known if f"({fastener.boss.material})" in one.material]
            if not alike:
                return None
            weakest = min(alike, key=lambda one: one.shear_mpa)
            strip = strip_load(size, screw, weakest)
            if fastener.insert:
                strip = insert_strip_load(size, float(fastener.insert.removesuffix(" d")), screw, weakest)
        head = HEADS.get((fastener.drive or "").partition(" ")[0], "hex")
        return Joint(size, screw, friction(fastener.lubrication, screw), seat(size, head), strip)
    except TradeError:
        return None


def estimated(fastener: Fastener) -> Estimate | None:
    """The estimate for a fastener that may have one, with the weaker of screw and boss governing; else None."""
    joint = joint_of(fastener) if may_be_estimated(fastener) else None
    if joint is None:
        return None
    try:
        return estimate(joint, step_nm=Decimal("0.5"))
    except TradeError:
        return None
