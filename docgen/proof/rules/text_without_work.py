"""The text tells of work that the step does not state: nothing is simulated, listed or signed for it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.club.schema.procedure import Step
from docgen.proof.case import Written
from docgen.proof.finding import Finding
from docgen.proof.verbs import promised
from docgen.proof.words import english


def on_steps(file: Written) -> Iterator[Finding]:
    """One finding at the text, for the first verb that nothing answers."""
    club = file.club.value
    registers = (club.tools.values(), club.gauges.values(), club.materials.values())
    things = frozenset(english(one.name).lower() for register in registers for one in register) - {""}
    for loc, step in file.steps:
        stated = {verb.key for verb in step.verbs}
        for imperative in promised(english(step.do), things):
            if imperative.needs and not stated & set(imperative.needs):
                yield _finding(file, (*loc, "do"), step, imperative.verb, imperative.needs)
                break


def _finding(file: Written, loc: tuple[str | int, ...], step: Step, verb: str, needs: tuple[str, ...]) -> Finding:
    keys = " or ".join(f"{need}:" for need in needs)
    return file.finding(loc, f"the text says '{verb}', but the step has no {keys}", f"write {keys} below it, or say it"
                        " in other words")  # fmt: skip
