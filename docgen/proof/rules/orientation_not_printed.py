"""A part with a right way round goes on in a step that does not print which way."""

from docgen.club.schema.procedure import VERBS
from docgen.job.marks import OrientationMark
from docgen.job.stepmarks import marks_of
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the step where it goes on."""
    before = case.run.before
    for index, changes in enumerate(case.run.by_step):
        going_on = [
            c
            for c in changes
            if c.became in ("on", "started", "tight")
            and before[index][c.member] in ("off", "unknown")
            and case.figures.item(c.member).orientation
        ]
        if not going_on:
            continue
        marks = marks_of(case.run.steps[index].step, case.figures)
        printed = {mark.item.partition("/")[0] for mark in marks if isinstance(mark, OrientationMark)}
        for change in going_on:
            item = case.run.graph.nodes[change.member].item
            if item not in printed:
                printed.add(item)
                yield case.at(
                    change, f"{item} has a right way round, and a step that says {change.verb} does not print it",
                    f"put it on with fits or renews, or let one step take it from off to tight"
                    f" (it is {VERBS[change.verb].done} here)",
                )  # fmt: skip
