"""A step with two kinds of assembly work: one box cannot be ticked for both."""

from docgen.proof.case import Findings, Written


def on_steps(file: Written) -> Findings:
    """One finding at the second verb."""
    for loc, step in file.steps:
        kinds = [verb.key for verb in step.verbs if verb.moves]
        if len(kinds) > 1 and kinds != ["undoes", "removes"]:
            said = " and ".join((", ".join(kinds[:-1]), kinds[-1]))
            yield file.finding((*loc, kinds[1]), f"one step {said}", "make a step of each, in the order of the work",
                               key=True)  # fmt: skip
