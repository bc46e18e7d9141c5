"""The model's torque leaves the screw slack: less than a fifth of its proof load, a slip of unit or digit."""

from docgen.proof.case import Findings, Typed
from docgen.proof.rules.torque_too_high import checked

WEAKEST = "4.6"


def on_model(typed: Typed) -> Findings:
    """One finding at the torque. Without a class, only what leaves even class 4.6 slack is told.

    What only seals an opening clamps nothing, and may be as slack as its maker wants.
    """
    for name, fastener in typed.model.value.fasteners.items():
        found = None if fastener.sealing else checked(fastener, WEAKEST)
        if found and found.verdict == "slack":
            taken = "" if fastener.grade else f"; the model names no class, so {WEAKEST} was taken, the weakest"
            yield typed.finding(("fasteners", name, "torque"), f"{name}: {found.says}",
                                "check the figure and its unit against the maker's manual",
                                (f"at the most {found.preload_high_kn:.2f} kN{taken}",))  # fmt: skip
