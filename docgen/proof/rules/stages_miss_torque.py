"""The tightening stages of a fastener do not rise to its torque."""

from itertools import pairwise

from docgen.job.tooling import middle
from docgen.proof.case import Findings, Typed


def on_model(typed: Typed) -> Findings:
    """One finding at the stages."""
    for name, fastener in typed.model.value.fasteners.items():
        if not fastener.stages:
            continue
        stages = [middle(stage) for stage in fastener.stages]
        loc = ("fasteners", name, "stages")
        if fastener.torque is None or not fastener.torque.contains(stages[-1]):
            message = f"{name}: the last stage is {stages[-1]}, the torque {fastener.torque or 'not given'}"
            yield typed.finding(loc, message, "let the last stage be the torque")
        elif any(later <= earlier for earlier, later in pairwise(stages)):
            yield typed.finding(loc, f"{name}: the stages do not rise: {', '.join(map(str, stages))}",
                                "write them from the lowest to the last")  # fmt: skip
