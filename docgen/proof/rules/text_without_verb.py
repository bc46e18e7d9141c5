"""A step that begins neither with a verb nor with a condition, nor says of what it handles that it goes on or off."""

from docgen.proof.case import Findings, Written
from docgen.proof.verbs import opens_well, told_by_thing
from docgen.proof.words import english, sentences


def on_steps(file: Written) -> Findings:
    """One finding at the text. Only its first sentence is judged: what follows may inform."""
    for loc, step in file.steps:
        said = sentences(english(step.do))
        if said and not opens_well(said[0]) and not any(getattr(step, key) for key in told_by_thing(said[0])):
            word = said[0].split()[0].strip(",")
            yield file.finding(
                (*loc, "do"), f"this step begins with '{word}', which is not a verb of the bench",
                "begin with what the hands do (Undo ...), or with a condition and a comma (If it sticks, warm ...)",
            )  # fmt: skip
