"""A look whose acceptance cannot be seen, or a text that says to look and nothing to look for."""

import re

from docgen.club.schema.procedure import Procedure
from docgen.proof.case import Findings, Written
from docgen.proof.verbs import promised

EMPTY = re.compile(
    r"(all |in |looks? |is |are )*(ok|okay|good|fine|order|good order|good condition|condition|as required|correct"
    r"|normal|acceptable|serviceable|satisfactory|no problems?|yes|pass|passed|as it should( be)?)\W*",
    re.IGNORECASE,
)
HINT = "say what the eye sees on a good one: Flat on both faces, no blue colour"


def on_steps(file: Written) -> Findings:
    """One finding at the acceptance, or at a check after the run that has none."""
    for loc, step in file.steps:
        if step.look and EMPTY.fullmatch(step.look.accept):
            yield file.finding((*loc, "look", "accept"), f"'{step.look.accept}' cannot be seen", HINT)
    for index, check in enumerate(file.value.after_run if isinstance(file.value, Procedure) else ()):
        if check.accept and EMPTY.fullmatch(check.accept):
            yield file.finding(("after_run", index, "accept"), f"'{check.accept}' cannot be seen", HINT)
        elif not check.accept and any("look" in row.needs for row in promised(check.do)):
            message = "this check says to look, and not what for"
            yield file.finding(("after_run", index), message, f"add  accept: {HINT}")
