"""A fastener's torque is far from that of its like on the same type, or just as far as one unit is from another."""

from collections.abc import Iterable, Sequence
from fractions import Fraction

from docgen.club.schema.model import Fastener
from docgen.job.tooling import middle
from docgen.proof.case import Findings, Typed
from docgen.trade.units import factor

LEVEL = "note"
FAR = Fraction(9, 4)
"""How many times larger or smaller is far (our choice: covers get half of what a seat gets, seldom less)."""
CLOSE = Fraction(1, 50)
"""How near to the ratio of two units is no chance (our choice)."""
SAME = ("thread", "grade", "lubrication", "critical", "hand_only")


def on_model(typed: Typed) -> Findings:
    """One finding at the torque. Like are two or more others with the same thread, class, lubrication and boss."""
    fasteners = typed.model.value.fasteners
    for name, fastener in fasteners.items():
        if fastener.torque is None or fastener.thread is None or fastener.sealing:
            continue
        others = {key: one for key, one in fasteners.items() if key != name and one.torque and not one.sealing}
        like = {key: one for key, one in others.items() if alike(one, fastener, SAME)}
        why = _far(nm(fastener), [nm(one) for one in like.values()]) if len(like) > 1 else ""
        if why:
            said = ", ".join(f"{key} {one.torque}" for key, one in like.items())
            yield typed.finding(("fasteners", name, "torque"), f"{name} gets {fastener.torque}, {why}: {said}",
                                "check the figure and its unit against the maker's manual")  # fmt: skip


def alike(one: Fastener, other: Fastener, keys: Iterable[str]) -> bool:
    """Whether two fasteners go into the same kind of boss, and the model says the same of both."""
    bosses = (one.boss and one.boss.material, other.boss and other.boss.material)
    return bosses[0] == bosses[1] and all(getattr(one, key) == getattr(other, key) for key in keys)


def _far(here: Fraction, there: Sequence[Fraction]) -> str:
    if all(here > FAR * one or one > FAR * here for one in there):
        return "far from its like"
    unit = factor("lbf.ft", "N.m")
    slips = {"as if N.m were meant as lbf.ft": unit, "as if lbf.ft were meant as N.m": 1 / unit}
    for says, slip in slips.items():
        if len(set(there)) == 1 and abs(here / there[0] / slip - 1) < CLOSE:
            return f"{says}, next to its like"
    return ""


def nm(fastener: Fastener) -> Fraction:
    """The torque that a wrench is set to, N·m, of a fastener that has one."""
    assert fastener.torque is not None
    return middle(fastener.torque).exactly("N.m")
