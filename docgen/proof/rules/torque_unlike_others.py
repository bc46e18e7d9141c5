"""A fastener's torque is far from that of the same fastener, with the same thread, on other types."""

from fractions import Fraction

from docgen.proof.case import Findings, Typed
from docgen.proof.rules.torque_unlike_its_like import alike, nm

LEVEL = "note"
BEARING = ("thread", "grade", "lubrication", "sealing", "critical", "insert")
"""What lets one fastener bear more than another."""
FAR = Fraction(8, 5)
"""How many times larger or smaller is far (our choice: makers differ, but seldom by more than half)."""
FAR_FROM_ONE = Fraction(7, 4)
"""The same where there is one other only, alike in all else (our choice: nearly the double, or half)."""


def on_model(typed: Typed) -> Findings:
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
        here, there = nm(fastener), [nm(twin) for twin in twins.values()]
        far, hint = FAR, "check the figure against the maker's manual"
        if len(twins) == 1:
            ((model, twin),) = twins.items()
            if typed.model.value.model > model or not fastener.thread or not alike(fastener, twin, BEARING):
                continue
            far, hint = FAR_FROM_ONE, "check both figures against the makers' manuals"
        if there and all(here > far * one or one > far * here for one in there):
            said = ", ".join(f"{twin.torque} on {model}" for model, twin in twins.items())
            yield typed.finding(("fasteners", name, "torque"), f"{name} is {fastener.torque} here, but {said}", hint)
