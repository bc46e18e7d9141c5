"""A reading is taken with the crank elsewhere than the model wants it, or nobody has brought it there."""

from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at each reading. Any top dead centre will do where the model does not say which."""
    limits, crank, moved = case.model.value.limits, "", -1
    for index, step in case.steps:
        if step.turns or step.runs or step.crank:
            crank, moved = (step.crank or "" if not step.runs else ""), index
        for at, name in enumerate(step.measure.of if step.measure else ()):
            wanted = limits[name].crank if name in limits else None
            if wanted and not (crank == wanted or (wanted == "tdc" and crank.startswith("tdc"))):
                at_last = case.run.steps[moved].step.crank if moved >= 0 else None
                stands = f"the crank stands at {at_last}" if at_last else "nothing says where the crank stands"
                yield case.finding(index, ("measure", "of", at), f"{name} is measured at {wanted}, and {stands} here",
                                   f"add a step before that turns it there, with  crank: {wanted}",
                                   (f"it was turned at {case.step_line(moved, index)}",) if moved >= 0 else ())
