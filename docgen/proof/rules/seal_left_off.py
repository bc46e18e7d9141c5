"""The job breaks a seal that the class may have put on, and no step puts the new one on."""

from docgen.job.seals import broken
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the step that breaks it."""
    steps = [step for _, step in case.steps]
    for index, parts in broken(steps, case.model.value).items():
        for part in parts:
            if not any(part in step.seals for step in steps[index:]):
                verb = "undoes" if steps[index].undoes else "removes"
                yield case.finding(index, (verb,), f"this breaks the seal of {part}, and no step puts a new one on",
                                   f"add a step at the end with  seals: [{part}]")  # fmt: skip
