"""A job handles fuel or sprays solvent, and nothing asks for a fire extinguisher before it begins."""

from docgen.job.hazards import met
from docgen.proof.case import Case, Finding, Findings
from docgen.proof.words import english

BURNING = ("fuel", "solvent")
WORD = "extinguisher"


def on_run(case: Case) -> Findings:
    """One finding at what must be true before the first step, for the first step that could need one."""
    procedure = case.procedure.value
    tools = [*procedure.tools, *(tool for _, step in case.steps for tool in step.tools)]
    if any(WORD in tool for tool in tools) or any(WORD in english(text).lower() for text in procedure.before):
        return
    for index, step in case.steps:
        burning = [hazard for hazard in BURNING if hazard in met(step, case.model.value, case.club.value)]
        if burning:
            yield Finding(case.procedure.document, ("before",) if procedure.before else ("procedure",),
                          f"this job meets {' and '.join(burning)}, and nothing asks for a fire extinguisher",
                          "write it under  before:  as in  Fire extinguisher in reach.  or list it under  tools:",
                          (f"{' and '.join(burning)} at {_place(case, index)}",), key=True)  # fmt: skip
            return


def _place(case: Case, index: int) -> str:
    """The line of a step, with its file where that is not the procedure's own."""
    placed = case.run.steps[index]
    line = f"line {placed.document.at(placed.loc)[0]}"
    own = placed.document.path == case.procedure.document.path
    return line if own else f"{line} of {placed.document.path}"
