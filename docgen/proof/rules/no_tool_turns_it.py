"""A fastener is undone or tightened, and no tool of the register turns its drive."""

from docgen.proof.case import Case, Finding, Findings


def on_run(case: Case) -> Findings:
    """One finding in the model, at the drive."""
    turned = {drive for tool in case.club.value.tools.values() for drive in tool.drives}
    for name in dict.fromkeys(name for _, step in case.steps for name in (*step.undoes, *step.tightens)):
        if not case.run.graph.members(name):
            continue
        fastener = case.figures.fastener(name)
        if fastener.drive and fastener.drive != "hand" and fastener.drive not in turned and not fastener.tools:
            item = name.partition("/")[0]
            yield Finding(case.model.document, ("fasteners", item, "drive"),
                          f"no tool of the register turns {fastener.drive}, the drive of {item}",
                          f"register one in club.yaml with  drives: [{fastener.drive}]")  # fmt: skip
