"""A derived reading whose parts are not measured before it."""

from docgen.job.wording import listed
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the derived reading."""
    measured: set[str] = set()
    for index, step in case.steps:
        names = step.measure.of if step.measure else ()
        measured |= set(names)
        for at, name in enumerate(names):
            limit = case.model.value.limits.get(name)
            derived = limit.derived if limit else None
            needed = (derived.difference or derived.average or derived.spread or ()) if derived else ()
            missing = [one for one in needed if one not in measured]
            if missing:
                yield case.finding(
                    index, ("measure", "of", at),
                    f"{name} follows from {listed(list(needed))}, and {listed(missing)} was not measured before",
                    f"add a step before with  measure: {missing[0]}",
                )  # fmt: skip
