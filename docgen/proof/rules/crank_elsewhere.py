"""A reading is taken with the crank elsewhere than the model wants it, or nobody has brought it there."""

from docgen.job.simulation.places import place_faults
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the first reading of each turn of the crank."""
    limits = case.model.value.limits
    for fault in place_faults(case.run, limits):
        if fault.kind == "crank-elsewhere":
            wanted = limits[fault.what].crank
            at = case.run.steps[fault.since].step.crank if fault.since is not None else None
            stands = f"the crank stands at {at}" if at else "nothing says where the crank stands"
            turned = f"it was turned at {case.step_line(fault.since, fault.step)}" if fault.since is not None else ""
            yield case.finding(
                fault.step, fault.at, f"{fault.what} is measured at {wanted}, and {stands} here",
                f"add a step before that turns it there, with  crank: {wanted}", (turned,) if turned else (),
            )  # fmt: skip
