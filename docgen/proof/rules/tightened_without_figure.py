"""A fastener is tightened for which the model gives no torque, no angle and no feel, nor asks for a blank line."""

from docgen.job.figures import tightness
from docgen.proof.case import Case, Finding, Findings


def on_run(case: Case) -> Findings:
    """One finding in the model, at the fastener."""
    for index, step in case.steps:
        for at, name in enumerate(step.tightens):
            if not case.run.graph.members(name):
                continue
            fastener = case.figures.fastener(name)
            if tightness(case.figures, name).blank and not fastener.critical:
                item = name.partition("/")[0]
                placed = case.run.steps[index]
                line = placed.document.at((*placed.loc, "tightens", at))[0]
                yield Finding(
                    case.model.document, ("fasteners", item), f"{item} is tightened, but nothing says how tight",
                    "give its torque, angle or by_feel; or mark it  critical: true  where the line is to stay blank",
                    (f"tightened at {placed.document.path}:{line}",), key=True,
                )  # fmt: skip
