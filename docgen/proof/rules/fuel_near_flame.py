"""A step heats or sparks while fuel is open, or right beside one that handles fuel."""

from docgen.club.bench.faults import lacking
from docgen.club.schema.procedure import Step
from docgen.job.hazards import materials_of
from docgen.proof.case import Case, Findings


def on_run(case: Case) -> Findings:
    """One finding at the step that heats or sparks."""
    steps = [step for _, step in case.steps]
    for index, step in enumerate(steps):
        if not step.makes and not step.runs:
            continue
        key = "makes" if step.makes else "runs"
        what = f"makes {' and '.join(step.makes)}" if step.makes else "runs the engine"
        open_ = [
            m
            for m, node in case.run.graph.nodes.items()
            if "fuel" in node.spec.hazards and case.run.before[index][m] in ("off", "loose", "started")
        ]
        beside = [i for i in (index - 1, index, index + 1) if 0 <= i < len(steps) and _handles(case, steps[i])]
        if open_:
            past = {c.member: c for c in case.run.changes if c.step < index and c.member in open_}
            yield case.finding(index, (key,), f"this step {what} while fuel is open: {lacking(case.run.graph, open_)}",
                               "close the fuel first", case.past(past.values(), index))  # fmt: skip
        elif beside:
            number = case.step_line(beside[0], index)
            yield case.finding(index, (key,), f"this step {what} right beside one that handles fuel ({number})",
                               "carry fuel and wet cloths away in a step between")  # fmt: skip


def _handles(case: Case, step: Step) -> bool:
    fuels = (material for material in materials_of(step, case.model.value) if case.kind(material) == "fuel")
    return "fuel" in step.meets or any(fuels)
