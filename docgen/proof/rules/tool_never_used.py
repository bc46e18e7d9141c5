"""A tool is listed for the job, and no step says what for."""

import re

from docgen.club.schema.procedure import Procedure
from docgen.proof.case import Findings, Written
from docgen.proof.rules.no_extinguisher import WORD as EXTINGUISHER
from docgen.proof.words import english

LEVEL = "note"
FILLING = {"with", "for", "and", "the", "set", "small", "clean"}


def on_steps(file: Written) -> Findings:
    """One finding at the tool's name. A word of its name anywhere in the job's text counts as use.

    A fire extinguisher is there to be reached, not to be used.
    """
    procedure = file.value
    if not isinstance(procedure, Procedure):
        return
    steps = [step for _, step in file.with_sequences]
    used = {tool for step in steps for tool in step.tools}
    told = [text for step in steps for text in (step.do, step.why, *(fail.do for _, fail in step.fails)) if text]
    texts = [*procedure.before, *told]
    if any(not english(text) for text in texts):
        return
    text = " ".join(texts).lower()
    for index, tool in enumerate(procedure.tools):
        entry = file.club.value.tools.get(tool)
        words = set(re.findall(r"[a-z]{3,}", f"{tool} {entry.name if entry else ''}".lower())) - FILLING
        if tool not in used and EXTINGUISHER not in tool and not any(re.search(rf"\b{word}\b", text) for word in words):
            yield file.finding(("tools", index), f"{tool} is listed, and no step uses it",
                               "name it in the step that needs it, or take it off the list")  # fmt: skip
