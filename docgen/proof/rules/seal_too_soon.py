"""A new seal goes on before a later measurement or refit of what it seals: it would have to come off again."""

from collections.abc import Iterator

from docgen.club.schema.procedure import Step
from docgen.job.seals import held_down_by
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the seal, for the last thing that comes after it."""
    steps = [step for _, step in case.steps]
    for index, step in enumerate(steps):
        for at, part in enumerate(step.seals):
            later = [(i, what) for i in range(index + 1, len(steps)) for what in _touched(case, steps[i], part)]
            if later:
                i, what = later[-1]
                yield case.finding(index, ("seals", at), f"{part} is sealed here, but later {what}",
                                   f"seal it after {case.step_line(i, index)}",
                                   [f"{what} at {case.step_line(i, index)}"])  # fmt: skip


def _touched(case: Case, step: Step, part: str) -> Iterator[str]:
    """What a step does to a sealed part, to what screws it down, or measures of it or of what lies behind it."""
    model, graph = case.model.value, case.run.graph
    own = {part, *held_down_by(model, part)}
    for name in step.moved:
        if name.partition("/")[0] in own:
            yield f"{name} is worked on"
    below = {part, *(graph.nodes[m].item for p in graph.members(part) for m in graph.covered[p])}
    for limit in step.measure.of if step.measure else ():
        if limit in model.limits and {n.partition("/")[0] for n in model.limits[limit].of} & below:
            yield f"{limit} is measured"
