"""A shim is chosen by a clearance that was not measured before, without the old one's size, or not proved after."""

from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding where it is set: new = old + measured - wanted needs all three, and a last look."""
    measured = {name: index for index, step in case.steps for name in (step.measure.of if step.measure else ())}
    before: set[str] = set()
    for index, step in case.steps:
        before |= {*step.finds, *(step.measure.of if step.measure else ())}
        for at, name in enumerate(step.sets):
            setting = case.model.value.settings.get(name)
            if setting is None or setting.chosen is None:
                continue
            by = setting.chosen.by
            why, hint = "", ""
            if by not in before:
                why, hint = f"{by} was not measured before", f"add a step before with  measure: {by}"
            elif name not in before:
                why, hint = "the old one's size was not noted before", f"add a step before with  finds: [{name}]"
            elif measured[by] <= index:
                why, hint = f"{by} is not measured again behind it", f"add a step behind with  measure: {by}"
            if why:
                yield case.finding(index, ("sets", at), f"{name} is chosen by {by}, and {why}", hint)
