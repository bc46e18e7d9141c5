"""The text tells of work that the step does not state: nothing is simulated, listed or signed for it."""

from docgen.proof.case import Findings, Written
from docgen.proof.verbs import promised
from docgen.proof.words import english


def on_steps(file: Written) -> Findings:
    """One finding at the text, for the first verb that nothing answers."""
    club = file.club.value
    registers = (club.tools.values(), club.gauges.values(), club.materials.values())
    things = frozenset(english(one.name).lower() for register in registers for one in register) - {""}
    for loc, step in file.steps:
        stated = {verb.key for verb in step.verbs}
        for imperative in promised(english(step.do), things):
            if imperative.needs and not stated & set(imperative.needs):
                keys = " or ".join(f"{need}:" for need in imperative.needs)
                yield file.finding((*loc, "do"), f"the text says '{imperative.verb}', but the step has no {keys}",
                                   f"write {keys} below it, or say it in other words")  # fmt: skip
                break
