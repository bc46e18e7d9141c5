"""A fastener's torque is far from that of the same fastener, with the same thread, on two or more other types."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from docgen.job.tooling import middle
from docgen.proof.case import Typed
from docgen.proof.finding import Finding

LEVEL = "note"
FAR = Fraction(8, 5)
"""How many times larger or smaller is far (our choice: makers differ, but seldom by more than half)."""


def on_model(typed: Typed) -> Iterator[Finding]:
    """One finding at the torque, when it is far from every other type's."""
    for name, fastener in typed.model.value.fasteners.items():
        if fastener.torque is None:
            continue
        here = middle(fastener.torque).exactly("N.m")
        elsewhere = {
            other.value.model: twin.torque
            for other in typed.others
            if (twin := other.value.fasteners.get(name)) and twin.torque and twin.thread == fastener.thread
        }
        there = [middle(torque).exactly("N.m") for torque in elsewhere.values()]
        if len(there) > 1 and all(here > FAR * one or one > FAR * here for one in there):
            said = ", ".join(f"{torque} on {model}" for model, torque in elsewhere.items())
            yield typed.finding(("fasteners", name, "torque"), f"{name} is {fastener.torque} here, but {said}",
                                "check the figure against the maker's manual")  # fmt: skip
