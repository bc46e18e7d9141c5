"""A setting is noted as found and never as left: the sheet does not say how the engine goes out."""

from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding where it is noted as found."""
    left: dict[str, int] = {name: index for index, step in case.steps for name in step.sets}
    for index, step in case.steps:
        for at, name in enumerate(step.finds):
            if left.get(name, -1) < index:
                message = f"{name} is noted as found, and no later step notes it as left"
                yield case.finding(index, ("finds", at), message, f"add a step behind with  sets: [{name}]")
