"""A check that can fail, with nothing to do about it."""

from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the check. A measurement may have its answer in the model's limit."""
    limits = case.model.value.limits
    for index, step in case.steps:
        if step.look and not step.look.fail:
            yield case.finding(index, ("look",), "nothing says what to do when this look finds a fault",
                               "add  fail: {do: ...}, {renews: [...]} or {calls: ...}")  # fmt: skip
        if step.measure and not step.measure.fail:
            silent = [name for name in step.measure.of if name in limits and not limits[name].fail]
            if silent:
                message = f"nothing says what to do when {', '.join(silent)} is out of limits"
                yield case.finding(index, ("measure",), message, "add  fail:  here, or to the limit in the model")
