"""A measurement for which the model gives no limits: a number is written down that decides nothing."""

from docgen.proof.case import Case, Findings

HINT = "give  new:  or  allow:  in the model; or its  unit:  while nobody knows them, and the line stays blank"


def on_run(case: Case) -> Findings:
    """One finding at the measurement."""
    for index, step in case.steps:
        for at, name in enumerate(step.measure.of if step.measure else ()):
            if name not in case.model.value.limits:
                continue
            limit = case.figures.limit(name)
            if limit.new is None and limit.allow is None and limit.unit is None:
                said = f"{name} is measured, and there is no limit for it"
                yield case.finding(index, ("measure", "of", at), said, HINT)
