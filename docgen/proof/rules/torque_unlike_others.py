"""A fastener's torque is far from that of the same fastener, with the same thread, on other types."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from docgen.club.schema.model import Fastener
from docgen.job.tooling import middle
from docgen.proof.case import Typed
from docgen.proof.finding import Finding
from docgen.trade.quantity import Band

LEVEL = "note"
FAR = Fraction(8, 5)
"""How many times larger or smaller is far (our choice: makers differ, but seldom by more than half)."""
FAR_FROM_ONE = Fraction(7, 4)
"""The same where there is one other only, alike in all else (our choice: nearly the double, or half)."""


def on_model(typed: Typed) -> Iterator[Finding]:
    """One finding at the torque, when it is far from every other type's.

    Of two types nobody could tell which is wrong: they are told once, on the first by name, where all else is alike.
    """
    for name, fastener in typed.model.value.fasteners.items():
        if fastener.torque is None:
            continue
        twins = {
            other.value.model: twin
            for other in typed.others
            if (twin := other.value.fasteners.get(name)) and twin.torque and twin.thread == fastener.thread
        }
        here = _nm(fastener.torque)
        there = [_nm(twin.torque) for twin in twins.values() if twin.torque]
        far, hint = FAR, "check the figure against the maker's manual"
        if len(twins) == 1:
            ((model, twin),) = twins.items()
            if typed.model.value.model > model or not _alike(fastener, twin):
                continue
            far, hint = FAR_FROM_ONE, "check both figures against the makers' manuals"
        if there and all(here > far * one or one > far * here for one in there):
            said = ", ".join(f"{twin.torque} on {model}" for model, twin in twins.items())
            yield typed.finding(("fasteners", name, "torque"), f"{name} is {fastener.torque} here, but {said}", hint)


def _alike(one: Fastener, other: Fastener) -> bool:
    """Whether nothing that the model says of the two lets one bear more than the other."""
    keys = ("thread", "grade", "lubrication", "sealing", "critical", "insert")
    bosses = (one.boss and one.boss.material, other.boss and other.boss.material)
    return one.thread is not None and bosses[0] == bosses[1] and all(getattr(one, k) == getattr(other, k) for k in keys)


def _nm(torque: Band) -> Fraction:
    return middle(torque).exactly("N.m")
