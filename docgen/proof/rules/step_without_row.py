"""A stage begins with a step that stands in no row of the bench leaf."""

from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the stage's first step. A job that says nothing of rows has one a step, and none is missing."""
    steps = case.run.steps
    if not any(one.row or one.adds for one in steps):
        return
    stage = None
    for index, one in enumerate(steps):
        if one.step.off_leaf:
            continue
        if one.stage != stage and not one.row:
            yield case.finding(index, (), "this step begins a stage, and no row of the bench leaf begins with it",
                               "write  row:  before its do:, as a mechanic would say it in one line")  # fmt: skip
        stage = one.stage
