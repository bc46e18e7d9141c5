"""A row begins with a step that not every engine gets, and gathers steps that more engines get."""

from collections.abc import Iterator

from docgen.club.schema.procedure import Sequence, Step
from docgen.club.yamldoc import Loc
from docgen.proof.case import Findings, Written


def on_steps(file: Written) -> Findings:
    """One finding at the row: on an engine without that equipment its text is lost."""
    for steps in _runs(file):
        begun: tuple[Loc, Step] | None = None
        for loc, step in steps:
            if step.use and not step.adds and not step.row:
                begun = None  # its sequence begins rows of its own
            elif step.row:
                begun = (loc, step)
            elif begun and not step.off_leaf and not set(begun[1].only_with) <= set(step.only_with):
                only = ", ".join(begun[1].only_with)
                line = file.document.at(loc)[0]
                yield file.finding((*begun[0], "row"),
                                   f"this row is for engines with {only} only, and its step at line {line} is not",
                                   "begin the row with a step that all of them get, or give that step a row of its own")
                begun = None


def steps_of(file: Written) -> Iterator[tuple[Loc, Step]]:
    """All steps of a file, those that use a sequence among them."""
    return (one for steps in _runs(file) for one in steps)


def _runs(file: Written) -> Iterator[list[tuple[Loc, Step]]]:
    value = file.value
    if isinstance(value, Sequence):
        yield [(("steps", i), step) for i, step in enumerate(value.steps)]
        return
    for at, stage in enumerate(value.stages):
        yield [(("stages", at, "steps", i), step) for i, step in enumerate(stage.steps)]
